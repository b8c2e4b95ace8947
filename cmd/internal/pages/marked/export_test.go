package marked

// Skills are what the rules train.
var Skills = skills
