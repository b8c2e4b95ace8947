// Sounds the notes with the browser's own oscillators: nothing is loaded. What is
// written sounds struck, like a piano, from the left; what sounds is blown, from the
// right: the two are told apart by more than their pitch.
(() => {
  let context = null;
  let voices = [];
  let timers = [];
  let again = null;
  const element = (id) => document.getElementById(id);
  const status = element("playing");
  const tempo = element("tempo");
  const quarter = () => 60 / Number(tempo.value); // seconds

  const showTempo = () => { element("tempo-says").value = lesson.says.tempo.replace("#", tempo.value); };
  tempo.addEventListener("input", showTempo);
  showTempo();

  const frequency = (midi) => 440 * 2 ** ((midi - 69) / 12);

  function sound(type, midi, at, length, side, shape) {
    const oscillator = new OscillatorNode(context, { type, frequency: frequency(midi) });
    const gain = new GainNode(context, { gain: 0 });
    const filter = new BiquadFilterNode(context, { type: "lowpass", frequency: Math.min(12000, 5 * frequency(midi)) });
    const pan = new StereoPannerNode(context, { pan: side });
    shape(gain.gain);
    oscillator.connect(filter).connect(gain).connect(pan).connect(context.destination);
    oscillator.start(at);
    oscillator.stop(at + length + 0.1);
    voices.push(oscillator);
    return oscillator;
  }

  const tones = {
    written(midi, at, length) { // struck: loud at once, then fading
      sound("triangle", midi, at, length, -0.35, (g) => {
        g.setValueAtTime(0, at);
        g.linearRampToValueAtTime(0.34, at + 0.008);
        g.exponentialRampToValueAtTime(0.06, at + Math.max(0.12, length));
        g.linearRampToValueAtTime(0, at + Math.max(0.12, length) + 0.06);
      });
    },
    sounding(midi, at, length) { // blown: swelling, held, trembling a little
      const o = sound("sawtooth", midi, at, length, 0.35, (g) => {
        g.setValueAtTime(0, at);
        g.linearRampToValueAtTime(0.13, at + 0.06);
        g.setValueAtTime(0.13, Math.max(at + 0.06, at + length - 0.06));
        g.linearRampToValueAtTime(0, at + length);
      });
      const tremble = new OscillatorNode(context, { frequency: 5 });
      const depth = new GainNode(context, { gain: 3 });
      tremble.connect(depth).connect(o.detune);
      tremble.start(at + 0.2);
      tremble.stop(at + length + 0.1);
      voices.push(tremble);
    },
    click(strong, at) {
      sound("square", strong ? 96 : 89, at, 0.03, 0, (g) => {
        g.setValueAtTime(0.12, at);
        g.exponentialRampToValueAtTime(0.001, at + 0.03);
      });
    },
  };

  function mark(index) {
    document.querySelectorAll(".now").forEach((e) => e.classList.remove("now"));
    if (index < 0) return;
    document.querySelector(`tr[data-note="${index}"]`)?.classList.add("now");
    document.querySelectorAll(`svg [data-bar="${lesson.notes[index].bar}"]`).forEach((e) => e.classList.add("now"));
  }

  function silence() {
    voices.forEach((v) => { try { v.stop(); } catch { /* had ended */ } });
    timers.forEach(clearTimeout);
    voices = [];
    timers = [];
    mark(-1);
  }

  function stop() {
    again = null;
    silence();
    status.textContent = "";
  }

  // plan: a list of { index, side, midi, start, length } in quarter notes.
  async function play(plan, says, counted) {
    silence();
    context ??= new AudioContext();
    await context.resume();
    const begin = context.currentTime + 0.08;
    const lead = counted && element("count-in").checked ? countIn(begin) : 0;
    let end = 0;
    for (const p of plan) {
      if (p.length <= 0) continue;
      const at = lead + p.start;
      tones[p.side](p.midi, begin + at * quarter(), p.length * quarter());
      timers.push(setTimeout(() => mark(p.index), (0.08 + at * quarter()) * 1000));
      end = Math.max(end, at + p.length);
    }
    status.textContent = says;
    again = element("loop").checked && counted ? () => play(plan, says, counted) : null;
    timers.push(setTimeout(() => (again ? again() : stop()), (0.2 + end * quarter()) * 1000));
  }

  // countIn clicks a bar, and what is left of the bar before an upbeat.
  function countIn(begin) {
    const { bar, beat, upbeat } = lesson.metre;
    const total = upbeat > 0 ? 2 * bar - upbeat : bar;
    for (let at = 0; at < total - 0.001; at += beat) tones.click(Math.abs(at % bar) < 0.001, begin + at * quarter());
    return total;
  }

  const one = (side) => lesson.notes.map((n, index) => ({ index, side, midi: n[side], start: n.start, length: n.length }));
  const other = lesson.given === "sounding" ? "written" : "sounding";

  // both sides of one note, the given one first
  const pair = (index, start) => [
    { index, side: lesson.given, midi: lesson.notes[index][lesson.given], start, length: 0.9 },
    { index, side: other, midi: lesson.notes[index][other], start: start + 1, length: 0.9 },
  ];

  function all() {
    let start = 0;
    const plan = [];
    lesson.notes.forEach((n, index) => {
      if (n.length <= 0) return;
      plan.push(...pair(index, start));
      start += 2.3;
    });
    return plan;
  }

  document.querySelectorAll("[data-play]").forEach((button) => button.addEventListener("click", () => {
    const what = button.dataset.play;
    return play(what === "both" ? all() : one(what), lesson.says[what], true);
  }));
  document.querySelectorAll("[data-hear]").forEach((button) => button.addEventListener("click", () =>
    play(pair(Number(button.dataset.hear), 0), lesson.says.both, false)));
  document.querySelectorAll("[data-stop]").forEach((button) => button.addEventListener("click", stop));
})();
