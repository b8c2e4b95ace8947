// Rarer choices about who plays what: several parts on one staff, one player with several
// parts, percussion shared out, sets for whoever comes.
import { say, spoken } from "./say.js";
import { h, field, choice, tick, button } from "./dom.js";
import { ask } from "./program.js";
import { desks, join, part, seat } from "./scores.js";
import { settings, set } from "./store.js";

let readers = [];

export async function learnReaders() {
  readers = (await ask("readers", { language: spoken() })).value;
}

export const choicesOfDesks = (one) => h("div", {},
  group("page.join-title", "page.join-hint", together(one, "join", say("page.join-add"), (chosen) => join(one, chosen, one.seats[chosen[0]].label), 3),
    list(one.seats.filter((s) => s.with.length && s.rows.length > 1), (s) => `${s.label}: ${[s.name, ...s.with].join(", ")}`, "part", (s) => part(one, s.index))),
  group("page.share-title", "page.share-hint", together(one, "share", say("page.share-add"), (chosen) => desks(one, { share: [...one.desks.share, chosen.map((i) => one.seats[i].part)] }), 3),
    list(one.desks.share, (words) => words.map((w) => one.names.get(w) ?? w).join(", "), "unshare", (_, i) => desks(one, { share: one.desks.share.filter((_, k) => k !== i) }))),
  h("div", { className: "settings" },
    field(say("page.percussionists"), h("input", { type: "number", id: "percussionists", min: 0, max: 12, value: one.desks.percussionists, onchange: (e) => desks(one, { percussionists: whole(e, 0, 12) }) }), say("page.percussionists-hint")),
    field(say("page.choir"), choice(one.desks.choir, [["", say("page.choir-none")], ["score", say("page.choir-score")], ["parts", say("page.choir-parts")]], (v) => desks(one, { choir: v }), { id: "choir" })),
    field(say("page.signature-most"), h("input", { type: "number", id: "signature-most", min: 0, max: 7, value: settings.signature, onchange: (e) => { set("signature", whole(e, 0, 7)); seat(one); } }), say("page.signature-most-hint")),
    field(say("page.rest-bars"), h("input", { type: "number", id: "rest-bars", min: 0, max: 99, value: settings.restBars, onchange: (e) => { set("restBars", whole(e, 0, 99)); seat(one); } }), say("page.rest-bars-hint")),
    tick(say("page.readable"), settings.readable, (v) => { set("readable", v); seat(one); }, { id: "readable" }),
    tick(say("page.skip-tacet"), settings.skipTacet, (v) => { set("skipTacet", v); seat(one); }, { id: "skip-tacet" }),
    tick(say("page.substitutes"), one.desks.substitutes, (v) => desks(one, { substitutes: v, editions: [] }), { id: "substitutes" })),
  h("fieldset", {}, h("legend", {}, say("page.editions")), h("p", { className: "soft" }, say("page.editions-hint")),
    h("div", { className: "settings" }, readers.map((r, i) => tick(r.title, one.desks.editions.includes(r.name), (v) => desks(one, { substitutes: false,
      editions: readers.map((o) => o.name).filter((name) => (name === r.name ? v : one.desks.editions.includes(name))) }), { id: `edition-${i}` })))));

const whole = (event, least, most) => Math.min(most, Math.max(least, Math.round(Number(event.target.value)) || 0));

const group = (title, hint, ...children) => h("fieldset", {}, h("legend", {}, say(title)), h("p", { className: "soft" }, say(hint)), children);

// together chooses two or three parts and hands them on.
function together(one, id, text, take, most) {
  const seats = one.seats.filter((s) => s.rows.length);
  const selects = Array.from({ length: most }, (_, i) => choice("", [["", "–"], ...seats.map((s) => [String(s.index), s.label])], () => {}, { id: `${id}-${i}`, "aria-label": say("page.part-n", { n: i + 1 }) }));
  const add = () => {
    const chosen = [...new Set(selects.map((s) => s.value).filter(Boolean).map(Number))];
    if (chosen.length > 1) take(chosen);
  };
  return h("div", { className: "tools" }, selects, button(text, add, { id: `${id}-add` }));
}

const list = (items, text, id, away) => (items.length ? h("ul", { className: "band" }, items.map((item, i) => h("li", {}, h("span", {}, text(item)),
  button("×", () => away(item, i), { id: `${id}-${i}`, "aria-label": say("page.take-back", { what: text(item) }) })))) : null);
