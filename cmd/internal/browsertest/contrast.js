// contrast(selectors) lists the texts found whose contrast with what is behind them is less than 4.5:
// the nearest background that is not seen through (WCAG 2.2, relative luminance and
// contrast ratio). Controls that are out of use are left out, as 1.4.3 has it.
(selectors) => {
  const canvas = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
  const kept = (read, known = new Map()) => (of) => known.has(of) ? known.get(of) : known.set(of, read(of)).get(of);
  const channels = kept((colour) => {
    canvas.clearRect(0, 0, 1, 1);
    canvas.fillStyle = colour;
    canvas.fillRect(0, 0, 1, 1);
    return [...canvas.getImageData(0, 0, 1, 1).data];
  });
  const luminance = kept((colour) => {
    const [r, g, b] = channels(colour).slice(0, 3).map((c) => (c /= 255) <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  });
  const behind = kept((e) => {
    if (!e) return luminance("white");
    const colour = getComputedStyle(e).backgroundColor;
    return channels(colour)[3] === 255 ? luminance(colour) : behind(e.parentElement);
  });
  const faint = [];
  for (const e of document.querySelectorAll(selectors)) {
    if (e.closest(":disabled")) continue;
    const ink = luminance(getComputedStyle(e).color);
    const paper = behind(e);
    const ratio = (Math.max(ink, paper) + 0.05) / (Math.min(ink, paper) + 0.05);
    if (ratio < 4.5) faint.push(`${ratio.toFixed(2)}: ${e.cloneNode(false).outerHTML.slice(0, 120)} (${getComputedStyle(e).color})`);
  }
  return faint;
}
