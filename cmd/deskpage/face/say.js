// What the page says, in the language that was chosen. The texts stand in the program's
// tables; texts is put in front of the modules when the page is built.
export const languages = { en: "English", de: "Deutsch", fr: "Français", it: "Italiano", es: "Español" };

let language = "en";

export function speak(chosen) {
  language = languages[chosen] ? chosen : "en";
  document.documentElement.lang = language;
}

export const spoken = () => language;

// say returns a text. Placeholders are {name} and {n|one|other}.
export function say(key, fill = {}) {
  const text = texts[language][key] ?? `[${key}]`;
  return text.replace(/\{([^}|]+)(?:\|([^|}]*)\|([^}]*))?\}/g, (_, name, one, other) => {
    if (one === undefined) return String(fill[name] ?? "");
    return Number(fill[name]) === 1 ? one : other;
  });
}

// sayAll fills whatever in the page's frame asks for a text by data-say, and the names
// of what has no text of its own by data-name.
export function sayAll(root) {
  for (const e of root.querySelectorAll("[data-say]")) e.textContent = say(e.dataset.say);
  for (const e of root.querySelectorAll("[data-name]")) e.setAttribute("aria-label", say(e.dataset.name));
}
