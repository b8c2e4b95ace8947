// A closer look at one part: what its instrument cannot play of it, bar by bar, and who
// else could take it.
import { say } from "./say.js";
import { h, find, fill, button, warn } from "./dom.js";
import { about, change } from "./scores.js";
import { mishap } from "./program.js";
import { settings } from "./store.js";

// most places of one kind are listed; the others are counted.
const most = 40;

export async function lookCloser(one, s) {
  const dialog = find("#closer");
  const told = find("#closer-told");
  find("#closer-head").textContent = say("page.closer-of", { part: s.label });
  fill(told, h("p", { className: "soft", role: "status" }, say("page.looking")));
  dialog.showModal();
  const which = { name: s.id, player: s.player };
  const have = settings.room === "band" ? settings.band : "";
  fill(told, await section(async () => report((await about(one, "reassign", { ...which, to: s.instrument, octave: s.octave, clef: s.clef })).value, s)),
    await section(async () => candidates(one, s, (await about(one, "fit", { ...which, have })).value, dialog)));
}

// section is what was told, or why nothing could be.
async function section(tell) {
  try {
    return await tell();
  } catch (error) {
    mishap(error);
    return h("p", { className: "soft" }, error.message);
  }
}

function report(r, s) {
  const at = (p) => `${say("page.in-bar", { bar: p.measure })}${p.beat ? `, ${say("page.beat", { beat: p.beat })}` : ""}`;
  const places = (title, list, text) => (list.length ? [h("h3", {}, say(title, { n: list.length })),
    h("ul", {}, list.slice(0, most).map((p) => h("li", {}, `${p.measure ? `${at(p)}: ` : ""}${text(p)}`)), list.length > most ? h("li", {}, say("page.and-more", { n: list.length - most })) : null)] : []);
  const wrong = [...places("page.outside", r.out_of_range, (p) => p.pitch), ...places("page.unplayable", r.unplayable, (p) => p.text), ...places("page.other-notices", r.warnings.map((w) => ({ text: w.line })), (p) => p.text)];
  return h("div", {}, h("h2", {}, say("page.closer-as", { instrument: s.title })),
    wrong.length ? wrong : h("p", {}, say("page.nothing-wrong")),
    places("page.octaves", r.changes_of_octave, (p) => say("page.octave-n", { n: p.octave > 0 ? `+${p.octave}` : String(p.octave) })));
}

function candidates(one, s, found, dialog) {
  const take = (c) => { dialog.close(); change(one, s.index, { instrument: c.instrument }); };
  return h("div", {}, h("h2", {}, say("page.candidates")), found.length ? h("div", { className: "scroll", tabIndex: 0, role: "region", "aria-label": say("page.candidates") }, h("table", { className: "cells" },
    h("thead", {}, h("tr", {}, ["page.instrument", "page.in-range", "page.octave", "page.why"].map((k) => h("th", { scope: "col" }, say(k))), h("td", {}))),
    h("tbody", {}, found.map((c, i) => h("tr", {}, h("th", { scope: "row" }, c.title), h("td", { "data-head": say("page.in-range") }, `${Math.floor(c.in_range * 100)} %`), h("td", { "data-head": say("page.octave") }, c.octave > 0 ? `+${c.octave}` : String(c.octave)), h("td", {}, c.text),
      h("td", {}, s.rows.length === 1 && c.instrument !== s.instrument ? button(say("page.give"), () => take(c), { id: `give-${i}`, "aria-label": say("page.give-to", { instrument: c.title }) }) : null)))))) : h("p", {}, say("page.nobody-could")),
    h("p", { className: "soft" }, say("page.ranges")));
}
