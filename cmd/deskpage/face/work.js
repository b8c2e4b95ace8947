// A work of several movements: their order, their titles, which score is which of them.
import { say } from "./say.js";
import { h, field, choice, button } from "./dom.js";
import { scores, joinWork, rearrange, undo } from "./scores.js";

const singles = () => scores.filter((s) => !s.members);

// worksOf offers to make a work of the scores that are open, and to change the chosen one.
export function worksOf(one) {
  if (one?.members) return movementsOf(one);
  return singles().length > 1 ? h("div", { className: "tools" }, button(say("page.join-work"), joinWork, { id: "join-work" }), h("p", { className: "soft" }, say("page.join-work-hint"))) : null;
}

// movementsOf is the work as a list that can be changed.
function movementsOf(work) {
  const left = singles().filter((s) => !work.members.includes(s));
  const more = h("select", { id: "movement-more" }, left.map((s, i) => h("option", { value: String(i) }, called(s))));
  return h("fieldset", { id: "movements" }, h("legend", {}, say("page.movements")), h("p", { className: "soft" }, say("page.movements-hint")),
    field(say("page.work-title"), h("input", { type: "text", id: "work-title", value: work.asked.title, placeholder: work.title, onchange: (e) => rearrange(work, work.members, { title: e.target.value.trim() }) })),
    h("ol", { className: "movements" }, work.members.map((m, i) => movement(work, m, i))),
    left.length ? h("div", { className: "tools" }, field(say("page.movement-more"), more), button(say("page.add"), () => reorder(work, [...work.members, left[Number(more.value)]], [...work.asked.titles, ""]), { id: "movement-add" })) : null,
    h("div", { className: "tools" }, button(say("page.undo"), () => undo(work), { id: "undo-work", disabled: !work.undo.length })));
}

const called = (score) => (score.title ? `${score.title} · ${score.path}` : score.path);

const reorder = (work, members, titles) => rearrange(work, members, { titles });

// movement is one movement: its title, the score it is, and its place.
function movement(work, member, i) {
  const name = work.movements?.[i] ?? say("page.movement-n", { n: i + 1 });
  const swap = (j) => {
    const moved = (list) => list.map((item, k) => (k === i ? list[j] : k === j ? list[i] : item));
    return reorder(work, moved(work.members), moved(work.asked.titles));
  };
  const titled = (title) => reorder(work, work.members, work.asked.titles.map((t, k) => (k === i ? title : t)));
  const other = (at) => reorder(work, work.members.map((m, k) => (k === i ? singles()[Number(at)] : m)), work.asked.titles.map((t, k) => (k === i ? "" : t)));
  const move = (key, sign, action, disabled) => button(sign, action, { id: `movement-${key}-${i}`, disabled, "aria-label": say(`page.movement-${key}`, { title: name }), title: say(`page.movement-${key}`, { title: name }) });
  return h("li", {},
    field(say("page.movement-title", { n: i + 1 }), h("input", { type: "text", id: `movement-title-${i}`, value: work.asked.titles[i], placeholder: name.replace(/^\d+\. /, ""), onchange: (e) => titled(e.target.value.trim()) })),
    field(say("page.movement-file", { n: i + 1 }), choice(String(singles().indexOf(member)), singles().map((s, k) => [String(k), called(s)]), other, { id: `movement-file-${i}` })),
    h("div", { className: "tools" }, move("up", "↑", () => swap(i - 1), i === 0), move("down", "↓", () => swap(i + 1), i === work.members.length - 1),
      move("away", "×", () => reorder(work, work.members.filter((_, k) => k !== i), work.asked.titles.filter((_, k) => k !== i)), work.members.length < 2)));
}
