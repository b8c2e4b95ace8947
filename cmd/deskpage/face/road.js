// A room is a road of steps from left to right: what is done, where one is, what comes.
import { say } from "./say.js";
import { h, fill, find, button } from "./dom.js";

// road shows the steps of a room; each has a name, a panel that shows it, and says whether
// one can go there.
export function road(room, steps) {
  let at = 0;
  const list = h("ol", { className: "road" });
  const panel = h("div", { className: "panel", id: `${room}-panel` });
  const foot = h("div", { className: "foot" });
  find(`#room-${room}`).append(list, panel, foot);

  function show(focus = false) {
    if (find(`#room-${room}`).hidden) return;
    if (!steps[at].open()) at = 0;
    fill(list, steps.map((step, i) => h("li", { className: i < at ? "done" : i === at ? "here" : "" },
      button(say(step.name), () => go(i), { id: `${room}-step-${i}`, disabled: !step.open(), "aria-current": i === at ? "step" : null }))));
    fill(panel, steps[at].show());
    const next = steps[at + 1];
    fill(foot, at > 0 ? button(say("page.back"), () => go(at - 1), { id: `${room}-back` }) : null,
      next ? button(say("page.next", { step: say(next.name) }), () => go(at + 1), { id: `${room}-next`, className: "next", disabled: !next.open() }) : null);
    if (focus) {
      const head = panel.querySelector("h2");
      if (head) { head.tabIndex = -1; head.focus(); }
    }
  }

  function go(i) {
    if (!steps[i].open()) return;
    steps[at].leave?.();
    at = i;
    show(true);
    steps[at].enter?.();
  }

  // rest empties a room that nobody is in.
  function rest() {
    steps[at].leave?.();
    panel.replaceChildren();
  }

  return { show, go, rest, at: () => at };
}
