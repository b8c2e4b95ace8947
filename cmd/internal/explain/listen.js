// Sounds the notes with the browser's own oscillators: nothing is loaded.
(() => {
  const quarter = 0.62; // seconds
  let context = null;
  let voices = [];
  let timers = [];
  const status = document.getElementById("playing");

  const frequency = (midi) => 440 * 2 ** ((midi - 69) / 12);

  // One tone: a soft triangle with a short attack, so that it does not click.
  function tone(midi, at, length) {
    const oscillator = new OscillatorNode(context, { type: "triangle", frequency: frequency(midi) });
    const gain = new GainNode(context, { gain: 0 });
    gain.gain.setValueAtTime(0, at);
    gain.gain.linearRampToValueAtTime(0.25, at + 0.02);
    gain.gain.setValueAtTime(0.25, Math.max(at + 0.02, at + length - 0.06));
    gain.gain.linearRampToValueAtTime(0, at + length);
    oscillator.connect(gain).connect(context.destination);
    oscillator.start(at);
    oscillator.stop(at + length + 0.05);
    voices.push(oscillator);
  }

  function mark(index) {
    document.querySelectorAll(".now").forEach((e) => e.classList.remove("now"));
    if (index < 0) return;
    document.querySelector(`tr[data-note="${index}"]`)?.classList.add("now");
    document.querySelectorAll(`svg [data-bar="${notes[index].bar}"]`).forEach((e) => e.classList.add("now"));
  }

  function stop() {
    voices.forEach((v) => { try { v.stop(); } catch { /* had ended */ } });
    timers.forEach(clearTimeout);
    voices = [];
    timers = [];
    mark(-1);
    status.textContent = "";
  }

  // plan: a list of { index, midi, start, length } in quarter notes.
  async function play(plan, says) {
    stop();
    context ??= new AudioContext();
    await context.resume();
    const begin = context.currentTime + 0.08;
    let end = 0;
    for (const p of plan) {
      if (p.length <= 0) continue;
      tone(p.midi, begin + p.start * quarter, p.length * quarter);
      timers.push(setTimeout(() => mark(p.index), (0.08 + p.start * quarter) * 1000));
      end = Math.max(end, p.start + p.length);
    }
    status.textContent = says;
    timers.push(setTimeout(stop, (0.2 + end * quarter) * 1000));
  }

  const one = (side) => notes.map((n, index) => ({ index, midi: n[side], start: n.start, length: n.length }));
  const other = given === "sounding" ? "written" : "sounding";

  // both sides of one note, the given one first
  const pair = (index, start) => [
    { index, midi: notes[index][given], start, length: 0.9 },
    { index, midi: notes[index][other], start: start + 1, length: 0.9 },
  ];

  const says = {
    written: "Playing what is written, as a piano would play it.",
    sounding: "Playing what sounds.",
    both: "Playing each given note and then its answer.",
  };

  document.querySelectorAll("[data-play]").forEach((button) => button.addEventListener("click", () => {
    const what = button.dataset.play;
    if (what !== "both") return play(one(what), says[what]);
    let start = 0;
    const plan = [];
    notes.forEach((n, index) => {
      if (n.length <= 0) return;
      plan.push(...pair(index, start));
      start += 2.3;
    });
    return play(plan, says.both);
  }));
  document.querySelectorAll("[data-hear]").forEach((button) => button.addEventListener("click", () =>
    play(pair(Number(button.dataset.hear), 0), "Playing the given note and then its answer.")));
  document.querySelectorAll("[data-stop]").forEach((button) => button.addEventListener("click", stop));
})();
