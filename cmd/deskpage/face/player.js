// Plays notes with the browser's own oscillators: what is written sounds struck, from the
// left; what sounds is blown, from the right.
let context = null;
let voices = [];
let ending = 0;

const frequency = (midi) => 440 * 2 ** ((midi - 69) / 12);

function voice(type, midi, at, length, pan, shape) {
  const oscillator = new OscillatorNode(context, { type, frequency: frequency(midi) });
  const gain = new GainNode(context, { gain: 0 });
  const soft = new BiquadFilterNode(context, { type: "lowpass", frequency: Math.min(12000, 5 * frequency(midi)) });
  shape(gain.gain);
  oscillator.connect(soft).connect(gain).connect(new StereoPannerNode(context, { pan })).connect(context.destination);
  oscillator.start(at);
  oscillator.stop(at + length + 0.1);
  voices.push(oscillator);
}

const tones = {
  written: (midi, at, length) => voice("triangle", midi, at, length, -0.35, (g) => {
    g.setValueAtTime(0, at);
    g.linearRampToValueAtTime(0.34, at + 0.008);
    g.exponentialRampToValueAtTime(0.06, at + Math.max(0.12, length));
    g.linearRampToValueAtTime(0, at + Math.max(0.12, length) + 0.06);
  }),
  sounding: (midi, at, length) => voice("sawtooth", midi, at, length, 0.35, (g) => {
    g.setValueAtTime(0, at);
    g.linearRampToValueAtTime(0.13, at + 0.06);
    g.setValueAtTime(0.13, Math.max(at + 0.06, at + length - 0.06));
    g.linearRampToValueAtTime(0, at + length);
  }),
};

export function silence() {
  for (const v of voices) { try { v.stop(); } catch { /* had ended */ } }
  voices = [];
  clearTimeout(ending);
}

// ahead is how many seconds of notes are made at once: a whole movement would be too many.
const ahead = 2;

// play plays notes { start, length, written, sounding } in quarter notes; the first one
// begins at once, whatever its start. done is called at the end.
export async function play(notes, side, tempo, done = () => {}) {
  silence();
  if (!notes.length) return done();
  context ??= new AudioContext();
  await context.resume();
  const quarter = 60 / tempo;
  const first = notes[0].start;
  const begin = context.currentTime + 0.08;
  let next = 0;
  let end = begin;
  const go = () => {
    while (next < notes.length) {
      const n = notes[next];
      const at = begin + (n.start - first) * quarter;
      if (at > context.currentTime + ahead) break;
      tones[side](n[side], at, n.length * quarter);
      end = Math.max(end, at + n.length * quarter);
      next++;
    }
    const rest = next < notes.length ? 500 : Math.max(0, end - context.currentTime) * 1000 + 100;
    ending = setTimeout(next < notes.length ? go : () => { voices = []; done(); }, rest);
  };
  go();
}
