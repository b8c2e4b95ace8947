// What a page must have to be used with a keyboard or a screen reader. Returns a
// list of what is amiss.
(() => {
  const faults = [];
  const text = (e) => (e.textContent || "").trim();
  const referred = (ids) => ids.split(" ").map((id) => document.getElementById(id)).map((e) => (e ? text(e) : "")).join(" ").trim();
  const name = (e) => e.getAttribute("aria-label") || referred(e.getAttribute("aria-labelledby") || "") ||
    [...(e.labels || [])].map(text).join(" ") || (e.localName === "svg" || e.localName === "g" ? text(e.querySelector("title") || e) : text(e));
  const amiss = (e, what) => faults.push(what + ": " + e.outerHTML.slice(0, 120));

  if (!document.documentElement.lang) faults.push("the page does not say its language");
  if (!document.title.trim()) faults.push("the page has no title");
  for (const only of ["main", "h1"]) {
    if (document.querySelectorAll(only).length !== 1) faults.push("the page has not one <" + only + ">");
  }
  const ids = new Set();
  for (const e of document.querySelectorAll("[id]")) {
    if (ids.has(e.id)) amiss(e, "its id is there twice");
    ids.add(e.id);
  }
  for (const attribute of ["aria-labelledby", "aria-describedby", "for"]) {
    for (const e of document.querySelectorAll("[" + attribute + "]")) {
      for (const id of e.getAttribute(attribute).split(" ")) if (!ids.has(id)) amiss(e, "nothing has the id " + id);
    }
  }
  for (const e of document.querySelectorAll('a[href^="#"]')) {
    const id = e.getAttribute("href").slice(1).replace(/-b\d+$/, ""); // a bar is drawn when it is asked for
    if (!ids.has(id)) amiss(e, "the link leads nowhere");
  }
  let level = 0;
  for (const e of document.querySelectorAll("h1,h2,h3,h4,h5,h6")) {
    const next = Number(e.localName[1]);
    if (next > level + 1) amiss(e, "a level of headings is passed over");
    if (!text(e)) amiss(e, "an empty heading");
    level = next;
  }
  for (const e of document.querySelectorAll("a,button,summary,input,select,textarea,section,nav,[role=region]")) {
    if (!name(e)) amiss(e, "it has no name");
  }
  for (const e of document.querySelectorAll("svg")) {
    if (e.getAttribute("aria-hidden") === "true" || e.parentElement.closest("svg")) continue;
    if (!e.getAttribute("role") || !name(e)) amiss(e, "a drawing without a text alternative");
  }
  for (const e of document.querySelectorAll("g.staff")) {
    if (e.getAttribute("role") !== "img" || !text(e.querySelector("title")) || !text(e.querySelector("desc"))) amiss(e, "a staff without a text alternative");
  }
  for (const e of document.querySelectorAll("th")) if (!e.scope) amiss(e, "a heading of a table without scope");
  for (const e of document.querySelectorAll("[tabindex]")) if (e.tabIndex > 0) amiss(e, "it takes its own turn");
  return faults;
})()
