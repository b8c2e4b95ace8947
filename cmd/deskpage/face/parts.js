// The room of the parts: a score, who plays what, looking and listening, taking along.
import { say, spoken } from "./say.js";
import { h, find, field, choice, tick, button, more, save, warn, tell, stem } from "./dom.js";
import { ask, stop, mishap, Stopped } from "./program.js";
import { scores, score, choose, savedName, single, open, close, seat, change, undo, usePlan, about, onChange, readFiles, setCopies, unplayed, give } from "./scores.js";
import { settings, set, unsaved } from "./store.js";
import { choicesOfDesks, learnReaders } from "./desks.js";
import { lookCloser } from "./closer.js";
import { collateSection } from "./collate.js";
import { partsWithPages, leaveLook, line } from "./look.js";
import { worksOf } from "./work.js";
import { road } from "./road.js";

let catalogue = [];
let way = null;

export function partsRoom() {
  way = road("parts", [
    { name: "page.step-score", open: () => true, show: scoreStep },
    { name: "page.step-players", open: () => hasSeats(), show: playersStep },
    { name: "page.step-look", open: () => hasSeats(), show: () => lookStep("parts"), leave: leaveLook },
    { name: "page.step-take", open: () => hasSeats(), show: () => takeStep("parts") },
  ]);
  onChange(() => { if (way.at() !== 2) way.show(); });
  return way;
}

export const hasSeats = () => (score()?.seats.length ?? 0) > 0;

export async function learnInstruments() {
  catalogue = (await ask("instruments", { language: spoken() })).value;
  await learnReaders();
}

// groups are the instruments of the catalogue by their groups, to choose from.
function groups(chosen) {
  const all = new Map();
  for (const i of catalogue) all.set(i.group, [...(all.get(i.group) ?? []), i]);
  return [...all].map(([group, list]) => h("optgroup", { label: say(`page.group-${group}`) }, list.map((i) => h("option", { value: i.id, selected: i.id === chosen }, i.title))));
}

// instrumentList is the whole catalogue to choose one of; none is what stands for no
// choice, where that may be.
export function instrumentList(id, chosen, onchange = () => {}, none = "") {
  const select = h("select", { id, onchange: () => onchange(select.value) }, none ? h("option", { value: "" }, none) : null, groups(chosen));
  return select;
}

export const undoButton = (one) => button(say("page.undo"), () => undo(one), { id: "undo", disabled: !one.undo.length });

// scoreStep chooses a score.
export function scoreStep() {
  return h("div", {}, h("h2", {}, say("page.step-score")),
    h("p", {}, say("page.score-intro")),
    h("div", { className: "tools" },
      button(say("page.choose-files"), () => find("#files").click(), { id: "choose-files", className: scores.length ? "" : "next" }),
      button(say("page.choose-folder"), () => find("#folder").click(), { id: "choose-folder" }),
      button(say("page.try-example"), example, { id: "try-example" })),
    scores.length ? h("div", { className: "scroll" }, scoreTable()) : null,
    worksOf(score()),
    settings.room === "band" && score()?.members ? h("p", { className: "ask" }, say("page.band-one")) : null,
    score() && !score().members ? pitchChoice(score()) : null);
}

function scoreTable() {
  return h("table", { className: "cells" }, h("thead", {}, h("tr", {}, ["page.score", "page.parts", "page.bars", "page.pitch", "page.close"].map((k) => h("th", { scope: "col" }, say(k))))),
    h("tbody", {}, scores.map((s, i) => h("tr", {},
      h("td", {}, h("label", {}, h("input", { type: "radio", name: "score", id: `score-${i}`, checked: s === score(), onchange: () => pickScore(s) }), " ", s.title || stem(s.path), h("small", {}, s.path))),
      h("td", { "data-head": say("page.parts") }, String(s.parts)), h("td", { "data-head": say("page.bars") }, String(s.measures)), h("td", { "data-head": say("page.pitch") }, say(`page.pitch-${s.pitch}`), h("small", {}, s.pitch_reason)),
      h("td", {}, button("×", () => close(s), { id: `close-${i}`, "aria-label": say("page.close-score", { title: s.title || s.path }) }))))));
}

async function pickScore(s) {
  choose(s);
  if (!s.seats.length) await seat(s);
}

function pitchChoice(s) {
  return h("div", { className: s.pitch_sure ? "" : "ask" }, field(say("page.input"), choice(s.input, [["auto", say("page.input-auto")], ["concert", say("page.pitch-concert")], ["written", say("page.pitch-written")]],
    (v) => { s.input = v; seat(s); }, { id: "input" }), say(s.pitch_sure ? "page.input-hint" : "page.input-ask")));
}

async function example() {
  const packed = Uint8Array.from(atob(find("#example").textContent.trim()), (c) => c.charCodeAt(0));
  const text = await new Response(new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
  await take([new File([text], "lanterns-on-the-quay.musicxml")]);
}

// take opens scores that were dropped or chosen, and goes on along the road.
export async function take(files) {
  find("#work").hidden = false;
  tell(say("page.reading"));
  try {
    if (await open(files) && way.at() === 0) way.show();
  } catch (error) {
    mishap(error, () => take(error.rest ?? files));
    if (error instanceof Stopped) tell(say("page.stopped-opening", { n: scores.length, of: error.rest?.length ?? 0 }));
  }
  find("#work").hidden = true;
}

// playersStep is the table of who plays what.
function playersStep() {
  const one = score();
  return h("div", {}, h("h2", {}, say("page.step-players")), h("p", {}, say("page.players-intro")),
    h("div", { className: "settings" },
      field(say("page.level"), choice(settings.level, [["professional", say("page.level-professional")], ["school", say("page.level-school")]], (v) => { set("level", v); seat(one); }, { id: "level" })),
      field(say("page.cues"), choice(String(settings.cues), [["0", say("page.cues-none")], ["8", say("page.cues-after", { n: 8 })], ["16", say("page.cues-after", { n: 16 })]], (v) => { set("cues", Number(v)); seat(one); }, { id: "cues" })),
      tick(say("page.split"), settings.players, (v) => { set("players", v); seat(one); }, { id: "split" }),
      tick(say("page.no-signature"), settings.without !== "", (v) => { set("without", v ? "horn,trumpet,timpani" : ""); seat(one); }, { id: "no-signature" })),
    one.members ? null : more("more-desks", say("page.more"), choicesOfDesks(one)),
    one.members ? null : h("div", { className: "tools" },
      undoButton(one),
      button(say("page.plan-out"), () => savePlan(one), { id: "plan-out" }),
      button(say("page.plan-in"), () => find("#plan-file").click(), { id: "plan-in" })),
    h("div", { className: "scroll" }, seatTable(one)), unplayedList(one));
}

// unplayedList are the parts that nobody plays, to be given to somebody.
export function unplayedList(one) {
  const rows = unplayed(one);
  return rows.length ? h("fieldset", {}, h("legend", {}, say("page.unplayed")), h("p", { className: "soft" }, say("page.unplayed-hint")),
    h("div", { className: "settings" }, rows.map((r, i) => field(one.names.get(r.part) ?? r.part, instrumentList(`unplayed-${i}`, "", (v) => v && give(one, r, v), say("page.nobody")))))) : null;
}

export function seatTable(one) {
  return h("table", { className: "seats" }, h("thead", {}, h("tr", {}, ["page.in-score", "page.instrument", "page.why", "page.label", "page.copies"].map((k) => h("th", { scope: "col" }, say(k))))),
    h("tbody", {}, one.seats.map((s) => h("tr", {}, h("th", { scope: "row" }, s.name || s.id, s.player ? h("small", {}, say("page.player-n", { n: s.player })) : null,
      s.with.length ? h("small", {}, say("page.with", { parts: s.with.join(", ") })) : null),
      h("td", {}, instrumentChoice(one, s)), h("td", {}, why(s), s.instrument && !one.members ? button(say("page.closer"), () => lookCloser(one, s), { id: `closer-${s.index}`, className: "plain", "aria-label": `${say("page.closer")}: ${s.label}` }) : null),
      h("td", { "data-head": say("page.label") }, h("input", { type: "text", id: `label-${s.index}`, value: s.label, disabled: !s.rows.length, "aria-label": say("page.label-of", { part: s.name }), onchange: (e) => change(one, s.index, { label: e.target.value }) })),
      h("td", { "data-head": say("page.copies") }, h("input", { type: "number", id: `copies-${s.index}`, min: 1, max: 99, value: s.copies, disabled: !s.rows.length && !one.members, "aria-label": say("page.copies-of", { part: s.name }),
        onchange: (e) => (one.members ? setCopies(one, s.index, Math.max(1, Math.round(Number(e.target.value)) || 1)) : change(one, s.index, { copies: String(e.target.value) })) }))))));
}

function why(s) {
  if (s.movements) return h("ul", { className: "why" }, s.movements.map((m) => h("li", {}, `${m.heading}: ${m.label || say("page.silent")}`)));
  const said = [say(`page.by-${s.recognised_by}`)];
  if ((s.assumed || s.recognised_by === "none") && s.why) said.push(s.why);
  return h("div", { className: "why" }, h("span", { className: s.recognised_by === "none" || s.assumed || s.question ? "ask" : "" }, said[0], s.assumed ? ` (${say("page.assumed")})` : ""),
    said[1] ? h("small", {}, said[1]) : null, s.describe ? h("small", {}, s.describe) : null, s.warnings.length ? h("ul", {}, s.warnings.map(line)) : null);
}

// instrumentChoice has one instrument until somebody reaches for it, and then all.
function instrumentChoice(one, s) {
  const select = h("select", { id: `instrument-${s.index}`, disabled: s.rows.length !== 1, "aria-label": say("page.instrument-of", { part: s.name }), onchange: () => change(one, s.index, { instrument: select.value }) },
    h("option", { value: s.instrument, selected: true }, s.title || say("page.unknown")));
  const all = () => {
    if (select.options.length > 1) return;
    const near = s.alternatives.map((id) => catalogue.find((i) => i.id === id)).filter(Boolean);
    if (near.length) select.append(h("optgroup", { label: say("page.maybe") }, near.map((i) => h("option", { value: i.id }, i.title))));
    select.append(...groups(""), h("option", { value: "none" }, say("page.nobody")));
  };
  select.addEventListener("pointerdown", all);
  select.addEventListener("focus", all);
  return select;
}

async function savePlan(one) {
  const { files } = await about(one, "plan");
  save(`${savedName(one)} plan.csv`, files[0][1]);
}

export async function takePlan(file) {
  if (!single()) return warn(say("page.plan-needs-score"));
  try {
    const [bytes] = await readFiles([file]);
    if (!bytes) return;
    const { value } = await ask("read-plan", {}, { files: [bytes] });
    await usePlan(score(), value);
    way.show();
    tell(say("page.plan-read", { n: value.length }));
  } catch (error) {
    warn(`${file.name}: ${error.message}`);
  }
}

export function lookStep(room) {
  return h("div", {}, h("h2", {}, say("page.step-look")), h("p", {}, say("page.look-intro")), partsWithPages(score(), room));
}

// takeStep is what can be taken along.
export function takeStep(room) {
  const one = score();
  const row = (key, text, action) => h("li", {}, button(say(key), () => run(key, () => action(one)), { id: `${room}-${key.slice(5)}`, className: "big" }), h("p", {}, say(text)));
  return h("div", {}, h("h2", {}, say("page.step-take")), h("p", {}, say("page.take-intro")),
    h("div", { className: "settings" },
      field(say("page.paper"), choice(settings.paper, [["", say("page.paper-usual")], ["a4", "A4"], ["letter", "Letter"], ["b4", "B4"]], (v) => again(one, "paper", v), { id: `${room}-paper` })),
      tick(say("page.large"), settings.large, (v) => again(one, "large", v), { id: `${room}-large` }),
      tick(say("page.one-sided"), settings.oneSided, (v) => again(one, "oneSided", v), { id: `${room}-one-sided` })),
    h("ul", { className: "takings" },
      row("page.take-all", "page.take-all-hint", everything), row("page.take-pdf", "page.take-pdf-hint", (s) => packed(s, ["print"], say("page.name-pdf"))),
      one.members ? null : row("page.take-proof", "page.take-proof-hint", proof), row("page.take-music", "page.take-music-hint", (s) => packed(s, ["make"], say("page.name-music"))), row("page.take-job", "page.take-job-hint", printJob)),
    one.members ? null : more(`${room}-more-take`, say("page.collate-title"), collateSection(one)),
    h("p", { className: "soft" }, say("page.copyright")));
}

function again(one, name, value) {
  set(name, value);
  one.drawn.clear();
}

// holdParts holds existing parts against the score.
export async function holdParts(chosen) {
  const one = score();
  await run("collate", async () => {
    const files = await readFiles(chosen);
    if (!files.length) return;
    const { value, files: made } = await about(one, "collate", {}, { files, progress: (p) => progress({ ...p, made: null }) });
    one.held = { results: value, table: made[0] };
    choose(one);
  });
}

// run does long work, which can be stopped.
export async function run(key, work) {
  find("#work").hidden = false;
  find("#bar").removeAttribute("value");
  try {
    await work();
    tell(say("page.done"));
  } catch (error) {
    if (error instanceof Stopped) tell(say("page.stopped"));
    else mishap(error, () => run(key, work));
  }
  find("#work").hidden = true;
}

export function progress(p, from = 0, of = 1) {
  const bar = find("#bar");
  bar.max = of;
  bar.value = from + p.done / p.of;
  tell(say("page.part-of", { part: p.made?.label ?? "", n: p.done, of: p.of }));
}

async function gather(one, call, from, of, more = {}) {
  const files = [];
  const { files: last } = await about(one, call, more, { progress: (p) => {
    progress(p, from, of);
    files.push(...p.files);
    if (p.made?.status === "failed" || p.made?.failed) warn(`${p.made.label}: ${p.made.warnings.at(-1)?.line ?? ""}`);
    else if (p.made?.failure) warn(`${p.made.label}: ${p.made.failure}`);
  } });
  return [...files, ...last];
}

async function pack(name, files) {
  const { files: made } = await ask("pack", {}, { files });
  save(name, made[0][1]);
}

async function packed(one, kinds, name) {
  const files = [];
  for (const [i, call] of kinds.entries()) files.push(...await gather(one, call, i, kinds.length));
  await pack(`${savedName(one)} ${name}.zip`, files.map(([n, bytes]) => [`${savedName(one)}/${n}`, bytes]));
  unsaved.done(one);
}

async function proof(one) {
  for (const [name, bytes] of await gather(one, "proof", 0, 1)) save(`${savedName(one)} ${name}`, bytes);
}

const copiesOf = (one) => one.seats.map((s) => s.copies);

async function everything(one) {
  const files = [...await gather(one, "make", 0, 3), ...await gather(one, "print", 1, 3), ...await gather(one, "print", 2, 3, { copies: copiesOf(one) })];
  if (!one.members) files.push(...(await about(one, "plan")).files);
  await pack(`${savedName(one)}.zip`, files.map(([n, bytes]) => [`${savedName(one)}/${n}`, bytes]));
  unsaved.done(one);
}

async function printJob(one) {
  const files = await gather(one, "print", 0, 1, { copies: copiesOf(one) });
  if (files.length) save(`${savedName(one)} ${files[0][0]}`, files[0][1]);
}

export const stopWork = () => { stop(); leaveLook(); };
