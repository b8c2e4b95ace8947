// The worker: it unpacks the program that the page holds, starts it and passes messages.
// What the program says goes to the page as it is; bytes are handed over, not copied.
self.deskpart = {
  say(message) {
    self.postMessage(message, (message.files ?? []).map(([, bytes]) => bytes.buffer));
  },
};

self.onmessage = ({ data }) => {
  if (data.program) start(data);
  else if (data.beat) self.postMessage({ beat: true });
  else if (data.stop) self.deskpart.stop?.();
  else self.deskpart.call(data.call, JSON.stringify(data.request ?? {}), data.files ?? []);
};

// What a program says that fails goes to the page, not to the console.
const last = [];
console.log = console.warn = console.error = (...said) => last.push(said.join(" "));

// hold takes a lock for as long as the worker lives, so that the page can tell when it is
// gone. A browser that has none leaves that to the beats.
function hold(lock) {
  if (!navigator.locks) return;
  navigator.locks.request(lock, () => {
    self.postMessage({ lock });
    return new Promise(() => {});
  }).catch(() => {});
}

async function start({ program, sum, lock }) {
  hold(lock);
  let why = "";
  try {
    const packed = bytesOf(program);
    if (sumOf(packed) !== sum) throw new Error("the file is not whole");
    const response = new Response(unpacked(packed), { headers: { "Content-Type": "application/wasm" } });
    const go = new Go();
    const { instance } = await WebAssembly.instantiateStreaming(response, go.importObject);
    await go.run(instance);
  } catch (error) {
    why = String(error);
  }
  self.postMessage({ ended: why || last[0] || "" }); // the program never ends by itself
}

// piece is how much of the program is handed on at once.
const piece = 1 << 20;

// unpacked is the program piece by piece, so that the browser compiles what is there while
// the rest is unpacked. It takes the decoder's own steps (frame header, then blocks): its
// interface gives all at once, or copies a window for every block.
function unpacked(packed) {
  const state = rzfh(packed, 1);
  const program = state.w;
  let given = 0;
  return new ReadableStream({
    pull(controller) {
      while (!state.l && state.y - given < piece) {
        rzb(packed, state, program);
        state.e = state.y;
      }
      controller.enqueue(program.slice(given, state.y));
      given = state.y;
      if (state.l) controller.close();
    },
  });
}

// sumOf is the FNV-1a hash of bytes, which tells whether the file came whole.
function sumOf(bytes) {
  let sum = 0x811c9dc5;
  for (let i = 0; i < bytes.length; i++) sum = Math.imul(sum ^ bytes[i], 0x01000193);
  return sum >>> 0;
}

// bytesOf reads the text that pack.go writes: seven bits a letter.
function bytesOf(text) {
  const bytes = new Uint8Array(Math.ceil(text.length * 7 / 4));
  const barred = [0, 13, 60];
  let at = 0, held = 0, bits = 0;
  for (let i = 0; i < text.length; i++) {
    let letter = text.charCodeAt(i);
    if (letter >= 0x280) letter = barred[letter - 0x280];
    else if (letter >= 0x100) {
      held = held << 7 | barred[letter - 0x100 >> 7];
      bits += 7;
      letter &= 127;
    }
    held = held << 7 | letter;
    bits += 7;
    while (bits >= 8) {
      bits -= 8;
      bytes[at++] = held >> bits;
    }
    held &= (1 << bits) - 1;
  }
  return bytes.subarray(0, at);
}
