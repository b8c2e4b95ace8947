// The scores that are open: reading files, who plays what, what has been made of them.
import { say } from "./say.js";
import { warn, tell, stem } from "./dom.js";
import { ask, drop, life, mishap, mostBytes, ready, Ended, Stopped } from "./program.js";
import { settings, unsaved } from "./store.js";

export const scores = [];

// noDesks is what nobody has asked for beside the players of the score.
const noDesks = { share: [], percussionists: 0, editions: [], substitutes: false, choir: "" };
let chosen = null;
const listeners = [];

export const score = () => chosen;
export const single = () => (chosen?.members ? null : chosen); // not a work of several

// savedName names the files that are saved of a score.
export const savedName = (one) => (one.members ? one.title.replace(/[\\/:*?"<>|]/g, " ").trim() : stem(one.path));
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
        taken.push([file.path || file.webkitRelativePath || file.name, new Uint8Array(await file.arrayBuffer())]);
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
        const one = { ...said, life: life(), source: file, plan: [], input: "auto", desks: { ...noDesks }, seats: [], names: new Map(), undo: [], made: new Map(), drawn: new Map() };
        scores.push(one);
        first ??= one;
      }
      for (const w of value.works) {
        const members = w.scores.map((id) => scores.find((s) => s.score === id && s.life === life()));
        first = workOf(members, w.title, w.titles);
        scores.push(first);
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
  scores.filter((s) => s.members?.includes(one)).forEach(close);
  if (!one.members && one.life === life()) ask("close", { score: one.score });
  if (chosen === one) choose(scores[0] ?? null);
  else changed();
}

// requestFor is what a call about a score begins with; a score of an earlier life of the
// program is opened again.
async function requestFor(one) {
  if (one.members) {
    const members = [];
    for (const member of one.members) members.push((await requestFor(member)).score);
    return { work: members, ...one.asked, settings: settingsFor(one) };
  }
  if (one.life !== life()) {
    one.opening ??= reopen(one).finally(() => { one.opening = null; });
    await one.opening;
  }
  return { score: one.score, settings: settingsFor(one) };
}

async function reopen(one) {
  const [bytes] = await readFiles([one.source]);
  const { value } = await ask("open", {}, { files: [bytes] });
  one.score = value.scores.find((s) => s.path === one.path)?.score;
  one.life = life();
}

export const settingsFor = (one) => ({
  language: settings.language, level: settings.level, input: one.input, players: settings.players || one.shared === true, cues: settings.cues,
  max_signature: settings.signature, rest_bars: settings.restBars, readable: settings.readable, skip_tacet: settings.skipTacet, ...one.desks,
  without_signature: settings.without.split(",").map((w) => w.trim()).filter(Boolean), plan: one.plan,
  paper: settings.paper, large: settings.large, one_sided: settings.oneSided,
});

export async function about(one, call, more = {}, options = {}) {
  return ask(one.members ? `work-${call}` : call, { ...await requestFor(one), ...more }, options);
}

// workOf is a work of several scores that are open: each player has one book for all
// movements.
const workOf = (members, title = "", titles = []) => ({ ...members[0], members, asked: { title, titles }, title: title || say("page.work", { n: members.length }), path: members.map((m) => m.path).join(", "),
  measures: members.reduce((n, m) => n + m.measures, 0), plan: [], desks: { ...noDesks }, seats: [], names: new Map(), undo: [], made: new Map(), drawn: new Map(), held: null });

// joinWork makes one work of all scores that are open, in the order of their names.
export async function joinWork() {
  const count = new Intl.Collator("en", { numeric: true });
  const members = scores.filter((s) => !s.members).sort((a, b) => count.compare(a.path, b.path));
  const work = workOf(members);
  scores.push(work);
  choose(work);
  await seat(work);
}

// seat says who plays what, after whatever may have changed it. What cannot be is said
// and taken back.
export async function seat(one) {
  drop();
  one.made.clear();
  one.drawn.clear();
  try {
    const { value } = await about(one, "seat");
    for (const s of value.seats) one.names.set(s.part, s.name || s.id);
    if (one.members) Object.assign(one, { title: value.title, parts: value.seats.length });
    one.seats = value.seats.map((s) => ({ ...s, rows: s.rows.map(small) }));
    value.warnings.forEach((w) => warn(w.line));
  } catch (error) {
    mishap(error, () => seat(one));
    if (!(error instanceof Ended) && !(error instanceof Stopped) && one.undo.length) Object.assign(one, one.undo.pop());
  }
  changed();
}

// change gives a seat another instrument, label or number of copies: the plan gets a row
// for every seat, and keeps those that nobody plays.
export async function change(one, index, what) {
  const seatRows = one.seats[index].rows.map((row) => ({ ...row }));
  Object.assign(seatRows[0], what);
  if (what.instrument) Object.assign(seatRows[0], { octave: "", clef: "", label: "" });
  await usePlan(one, one.plan.length ? [...one.plan.filter((r) => r.instrument === "none"), ...one.seats.flatMap((s, i) => (i === index ? seatRows : s.rows))] : seatRows, one.shared);
}

// join gives the staves of several seats to one player.
export async function join(one, indices, player) {
  const rows = (s, i) => (indices.includes(i) ? s.rows.map((r) => ({ ...r, player, label: "" })) : s.rows);
  await usePlan(one, [...one.plan.filter((r) => r.instrument === "none"), ...one.seats.flatMap(rows)], one.shared);
}

// part gives the staves of a seat to a player each.
export async function part(one, index) {
  const rows = (s, i) => (i === index ? s.rows.map((r) => ({ ...r, player: "", label: "" })) : s.rows);
  await usePlan(one, [...one.plan.filter((r) => r.instrument === "none"), ...one.seats.flatMap(rows)], one.shared);
}

// desks changes what is asked for beside the players of the score.
export async function desks(one, what) {
  remember(one);
  one.desks = { ...one.desks, ...what };
  await seat(one);
}

const remember = (one) => one.undo.push({ plan: one.plan, desks: one.desks, shared: one.shared });

export async function undo(one) {
  if (!one.undo.length) return;
  Object.assign(one, one.undo.pop());
  await seat(one);
}

// small writes the columns of a plan's row small, as the page has them.
const small = (row) => Object.fromEntries(Object.entries(row).map(([column, cell]) => [column.toLowerCase(), cell]));

// usePlan has the parts played as the rows of a plan say.
export async function usePlan(one, rows, shared = false) {
  remember(one);
  one.plan = rows.map(small);
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
