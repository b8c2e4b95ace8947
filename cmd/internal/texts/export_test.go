package texts

var Table, Notices = table, notices
