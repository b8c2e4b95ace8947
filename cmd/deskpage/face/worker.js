// The worker: it unpacks the program that the page holds, starts it and passes messages.
// What the program says goes to the page as it is; bytes are handed over, not copied.
self.deskpart = {
  say(message) {
    self.postMessage(message, (message.files ?? []).map(([, bytes]) => bytes.buffer));
  },
};

self.onmessage = ({ data }) => {
  if (data.program) start(data.program);
  else if (data.stop) self.deskpart.stop?.();
  else self.deskpart.call(data.call, JSON.stringify(data.request ?? {}), data.files ?? []);
};

// What a program says that fails goes to the page, not to the console.
const last = [];
console.log = console.warn = console.error = (...said) => last.push(said.join(" "));

async function start(packed) {
  let why = "";
  try {
    const unpacked = new Blob([decode(packed)]).stream().pipeThrough(new DecompressionStream("gzip"));
    const response = new Response(unpacked, { headers: { "Content-Type": "application/wasm" } });
    const go = new Go();
    const { instance } = await WebAssembly.instantiateStreaming(response, go.importObject);
    await go.run(instance);
  } catch (error) {
    why = String(error);
  }
  self.postMessage({ ended: why || last[0] || "" }); // the program never ends by itself
}

function decode(base64) {
  if (Uint8Array.fromBase64) return Uint8Array.fromBase64(base64);
  const text = atob(base64);
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
  return bytes;
}
