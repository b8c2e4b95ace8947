// Settings that are remembered, where the browser lets the page remember; never scores.
const drawer = "deskpart";

const usual = { language: "", theme: "", room: "parts", level: "professional", players: false, cues: 0, without: "", paper: "", large: false, oneSided: false, band: "", signature: 6, restBars: 2, readable: false, skipTacet: false };

export const settings = { ...usual, ...remembered() };

function remembered() {
  try {
    const found = JSON.parse(localStorage.getItem(drawer) ?? "{}");
    return Object.fromEntries(Object.entries(found).filter(([name, value]) => typeof value === typeof usual[name]));
  } catch {
    return {}; // some browsers remember nothing for a file on disk
  }
}

export function set(name, value) {
  settings[name] = value;
  try {
    localStorage.setItem(drawer, JSON.stringify(settings));
  } catch { /* the settings hold until the page is closed */ }
}

// unsaved counts what was made and not yet saved, so that leaving asks.
const kept = new Set();
export const unsaved = { add: (what) => kept.add(what), done: (what) => kept.delete(what), any: () => kept.size > 0 };
addEventListener("beforeunload", (event) => { if (unsaved.any()) event.preventDefault(); });
