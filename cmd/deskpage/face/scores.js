// The scores that are open: reading files, who plays what, what has been made of them.
import { say } from "./say.js";
import { warn, tell } from "./dom.js";
import { ask, drop, life, mostBytes, ready } from "./program.js";
import { settings, unsaved } from "./store.js";

export const scores = [];
let chosen = null;
const listeners = [];

export const score = () => chosen;
export const onChange = (f) => listeners.push(f);
const changed = () => listeners.forEach((f) => f());

export function choose(one) {
  chosen = one;
  changed();
}

const million = (bytes) => Math.ceil(bytes / 1e6);

// read reads files, but for a giant, which would take the browser's memory.
export async function readFiles(files) {
  await ready;
  const taken = [];
  for (const file of files) {
    if (file.size > mostBytes) warn(say("page.giant", { file: file.name, size: million(file.size), most: million(mostBytes) }));
    else {
      try {
        taken.push([file.name, new Uint8Array(await file.arrayBuffer())]);
      } catch {
        warn(say("page.unreadable", { file: file.name }));
      }
    }
  }
  return taken;
}

// open opens files as scores and says of every one that was refused why.
export async function open(files) {
  let first = null;
  for (const file of files) {
    for (const bytes of await readFiles([file])) {
      const { value } = await ask("open", {}, { files: [bytes] });
      value.rejected.forEach((r) => warn(r.line));
      for (const said of value.scores) {
        const one = { ...said, life: life(), source: file, plan: [], input: "auto", seats: [], undo: [], made: new Map(), drawn: new Map() };
        scores.push(one);
        first ??= one;
      }
    }
  }
  if (first) {
    tell(say("page.opened", { n: scores.length, title: first.title || first.path }));
    choose(first);
    await seat(first);
  }
  return first;
}

export function close(one) {
  scores.splice(scores.indexOf(one), 1);
  unsaved.done(one);
  if (one.life === life()) ask("close", { score: one.score });
  if (chosen === one) choose(scores[0] ?? null);
  else changed();
}

// requestFor is what a call about a score begins with; a score of an earlier life of the
// program is opened again.
async function requestFor(one) {
  if (one.life !== life()) {
    const [bytes] = await readFiles([one.source]);
    const { value } = await ask("open", {}, { files: [bytes] });
    one.score = value.scores.find((s) => s.path === one.path)?.score;
    one.life = life();
  }
  return { score: one.score, settings: settingsFor(one) };
}

export const settingsFor = (one) => ({
  language: settings.language, level: settings.level, input: one.input, players: settings.players || one.shared === true, cues: settings.cues,
  without_signature: settings.without.split(",").map((w) => w.trim()).filter(Boolean), plan: one.plan,
  paper: settings.paper, large: settings.large, one_sided: settings.oneSided,
});

export async function about(one, call, more = {}, options = {}) {
  return ask(call, { ...await requestFor(one), ...more }, options);
}

// seat says who plays what, after whatever may have changed it.
export async function seat(one) {
  drop();
  one.made.clear();
  one.drawn.clear();
  try {
    const { value } = await about(one, "seat");
    one.seats = value.seats;
    value.warnings.forEach((w) => warn(w.line));
  } catch (error) {
    warn(error.message);
  }
  changed();
}

// change gives a seat another instrument, label or number of copies: the plan gets a row
// for every seat, and keeps those that nobody plays.
export async function change(one, index, what) {
  one.undo.push(one.plan);
  const rows = one.plan.length ? [...one.plan.filter((r) => r.instrument === "none"), ...one.seats.map(rowOf)] : [];
  const seatRow = { ...rowOf(one.seats[index]), ...what };
  if (what.instrument) Object.assign(seatRow, { octave: "", clef: "", label: "" });
  const at = rows.findIndex((r) => r.index === index);
  if (at >= 0) rows[at] = seatRow;
  else rows.push(seatRow);
  one.plan = rows.map(({ index: _, ...row }) => row);
  unsaved.add(one);
  await seat(one);
}

const rowOf = (s) => ({
  index: s.index, part: s.part, instrument: s.instrument, octave: s.octave, clef: s.clef,
  label: s.recognised_by === "plan" ? s.label : "", copies: s.copies > 1 ? String(s.copies) : "",
});

export async function undo(one) {
  if (!one.undo.length) return;
  one.plan = one.undo.pop();
  await seat(one);
}

export async function usePlan(one, rows, shared = false) {
  one.undo.push(one.plan);
  one.plan = rows;
  one.shared = shared;
  unsaved.add(one);
  await seat(one);
}

// drawn gives the pages of a part as pictures, drawn when they are first asked for.
export function drawn(one, index, later = false) {
  if (!one.drawn.has(index)) {
    const promise = about(one, "draw", { part: index }, { later });
    one.drawn.set(index, promise);
    promise.catch(() => { if (one.drawn.get(index) === promise) one.drawn.delete(index); });
  }
  return one.drawn.get(index);
}
