// The room of the band: the players there are, who would play what, changed by hand.
import { say, spoken } from "./say.js";
import { h, field, button, choice } from "./dom.js";
import { ask } from "./program.js";
import { score, single, onChange, usePlan, about } from "./scores.js";
import { settings, set } from "./store.js";
import { scoreStep, hasSeats, seatTable, unplayedList, lookStep, takeStep, instrumentList, run, undoButton } from "./parts.js";
import { leaveLook } from "./look.js";
import { road } from "./road.js";

let bandWay = null;
let players = []; // of the band: { instrument, title, count }
let casting = null;
let castFor = "";

export function bandRoom() {
  bandWay = road("band", [
    { name: "page.step-score", open: () => true, show: scoreStep },
    { name: "page.step-band", open: () => single() && hasSeats(), show: bandStep },
    { name: "page.step-players", open: () => single() && hasSeats() && players.length > 0, show: castStep, enter: cast },
    { name: "page.step-look", open: () => single() && hasSeats() && players.length > 0, show: () => lookStep("band"), leave: leaveLook },
    { name: "page.step-take", open: () => single() && hasSeats() && players.length > 0, show: () => takeStep("band") },
  ]);
  onChange(() => { if (bandWay.at() !== 3) bandWay.show(); });
  return bandWay;
}

// learnBand understands the band that is remembered.
export async function learnBand() {
  if (!settings.band) return;
  try {
    players = (await ask("band", { band: settings.band, language: spoken() })).value;
  } catch {
    players = [];
  }
}

function keepBand() {
  set("band", players.map((p) => `${p.count} ${p.instrument}`).join(", "));
  castFor = "";
  bandWay.show();
}

function bandStep() {
  const which = instrumentList("band-instrument", "flute");
  const many = h("input", { type: "number", id: "band-count", min: 1, max: 40, value: 1 });
  const add = () => {
    if (!which.value) return;
    const known = players.find((p) => p.instrument === which.value);
    if (known) known.count += Number(many.value);
    else players.push({ instrument: which.value, title: which.selectedOptions[0].textContent, count: Math.max(1, Number(many.value)) });
    keepBand();
    document.getElementById("band-instrument").focus();
  };
  return h("div", {}, h("h2", {}, say("page.step-band")), h("p", {}, say("page.band-intro")),
    h("div", { className: "tools" }, field(say("page.instrument"), which), field(say("page.how-many"), many), button(say("page.add"), add, { id: "band-add" })),
    players.length ? h("ul", { className: "band" }, players.map((p, i) => h("li", {},
      h("input", { type: "number", id: `band-${i}`, min: 1, max: 40, value: p.count, "aria-label": say("page.how-many-of", { instrument: p.title }), onchange: (e) => { p.count = Math.max(1, Number(e.target.value)); keepBand(); } }),
      h("span", {}, p.title), button("×", () => { players.splice(i, 1); keepBand(); }, { id: `band-away-${i}`, "aria-label": say("page.remove", { instrument: p.title }) })))) : h("p", { className: "soft" }, say("page.band-empty")),
    field(say("page.level"), choice(settings.level, [["professional", say("page.level-professional")], ["school", say("page.level-school")]], (v) => { set("level", v); castFor = ""; }, { id: "band-level" })));
}

// cast has the program seat the band, once for each band and score.
async function cast() {
  const one = score();
  const asked = `${one.path} ${settings.band} ${settings.level}`;
  if (asked === castFor) return;
  await run("cast", async () => {
    casting = (await about(one, "cast", { band: settings.band }, { progress: () => {} })).value;
    castFor = asked;
    await usePlan(one, casting.plan, casting.players);
    bandWay.show();
  });
  bandWay.show();
}

function castStep() {
  const one = score();
  if (!casting || !castFor) return h("div", {}, h("h2", {}, say("page.step-players")), h("p", { className: "soft" }, say("page.casting")));
  return h("div", {}, h("h2", {}, say("page.step-players")), h("p", {}, say("page.cast-intro")),
    casting.uncovered.length || casting.idle.length ? h("ul", { className: "ask" },
      casting.uncovered.length ? h("li", {}, say("page.uncovered", { part: casting.uncovered.map((u) => u.plan_name).join(", ") })) : null,
      casting.idle.map((id) => h("li", {}, say("page.idle", { player: players.find((p) => p.instrument === id)?.title ?? id })))) : null,
    h("div", { className: "scroll" }, h("table", { className: "cells" }, h("thead", {}, h("tr", {}, ["page.player", "page.plays", "page.octave", "page.in-range", "page.why"].map((k) => h("th", { scope: "col" }, say(k))))),
      h("tbody", {}, casting.roles.map((r) => h("tr", {}, h("th", { scope: "row" }, r.label || casting.titles[r.instrument], r.doubling ? h("small", {}, say("page.doubles")) : null), h("td", { "data-head": say("page.plays") }, r.plan_name),
        h("td", { "data-head": say("page.octave") }, r.octave ? (r.octave > 0 ? `+${r.octave}` : String(r.octave)) : "0"), h("td", { "data-head": say("page.in-range") }, `${Math.floor(r.in_range * 100)} %`), h("td", {}, r.text)))))),
    h("h3", {}, say("page.by-hand")), h("div", { className: "tools" }, undoButton(one)),
    h("div", { className: "scroll" }, seatTable(one)), unplayedList(one),
    h("p", { className: "soft" }, say("page.ranges")));
}
