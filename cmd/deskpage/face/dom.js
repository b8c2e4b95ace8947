// Small tools for the document: elements, messages, downloads.
import { say } from "./say.js";

// h makes an element: properties by name, listeners as onName, attributes with a dash or
// the word role, children that are elements or texts.
export function h(tag, properties = {}, ...children) {
  const e = document.createElement(tag);
  for (const [name, value] of Object.entries(properties)) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) e.addEventListener(name.slice(2), value);
    else if (name.includes("-") || name === "role" || name === "for") e.setAttribute(name, value === true ? "" : value);
    else e[name] = value;
  }
  e.append(...children.flat().filter((c) => c !== null && c !== undefined && c !== false));
  return e;
}

export const find = (selector) => document.querySelector(selector);

// fill puts new children into an element and keeps the focus at the same control where
// it is still there.
export function fill(parent, ...children) {
  const focused = parent.contains(document.activeElement) ? document.activeElement.id : "";
  parent.replaceChildren(...children.flat().filter(Boolean));
  if (focused) document.getElementById(focused)?.focus();
}

// tell says something in passing, also to a screen reader.
export function tell(text) {
  find("#status").textContent = text;
}

// warn puts a line among the messages, which stay until they are taken away; next is what
// can be done about it: { text, action }; exact is the same in the program's own words.
export function warn(text, next = null, exact = "") {
  const list = find("#messages");
  const away = () => { line.remove(); list.hidden = !list.children.length; };
  const line = h("li", {}, h("span", {}, text, exact ? h("details", {}, h("summary", {}, say("page.exact")), h("span", { lang: "en" }, exact)) : null),
    next ? button(next.text, () => { away(); next.action(); }, { className: "go-on" }) : null,
    h("button", { type: "button", className: "away", "aria-label": say("page.dismiss"), onclick: away }, "×"));
  list.append(line);
  list.hidden = false;
  return { remove: away };
}

export function calm() {
  find("#messages").replaceChildren();
  find("#messages").hidden = true;
}

const kinds = { pdf: "application/pdf", zip: "application/zip", csv: "text/csv", html: "text/html", svg: "image/svg+xml", musicxml: "application/vnd.recordare.musicxml+xml" };

export function blobOf(name, bytes) {
  return new Blob([bytes], { type: kinds[name.split(".").pop()] ?? "application/octet-stream" });
}

// save hands a file to the browser's downloads.
export function save(name, bytes) {
  const url = URL.createObjectURL(blobOf(name, bytes));
  h("a", { href: url, download: name.split("/").pop() }).click();
  setTimeout(() => URL.revokeObjectURL(url), 60000);
}

// field is a labelled control.
export function field(label, control, hint = "") {
  control.id ||= `field-${++fields}`;
  const about = hint ? h("small", { id: `${control.id}-hint` }, hint) : null;
  if (about) control.setAttribute("aria-describedby", about.id);
  return h("div", { className: "field" }, h("label", { for: control.id }, label), control, about);
}

let fields = 0;

export function choice(value, choices, onchange, properties = {}) {
  const select = h("select", { ...properties, onchange: () => onchange(select.value) },
    choices.map(([v, text]) => h("option", { value: v, selected: v === value }, text)));
  return select;
}

export function tick(label, checked, onchange, properties = {}) {
  const box = h("input", { type: "checkbox", checked, ...properties, onchange: () => onchange(box.checked) });
  return h("label", { className: "tick" }, box, " ", label);
}

const opened = new Set();

// more is a section of rare choices, closed until somebody opens it.
export function more(id, title, ...children) {
  const section = h("details", { id, className: "more", open: opened.has(id), ontoggle: () => { if (section.open) opened.add(id); else opened.delete(id); } },
    h("summary", {}, title), children);
  return section;
}

export const button = (text, onclick, properties = {}) => h("button", { type: "button", onclick, ...properties }, text);

export const stem = (path) => path.split("/").pop().replace(/\.[^.]*$/, "");
