// contrast(selectors) is the least contrast of the texts found with the paper
// (WCAG 2.2, relative luminance and contrast ratio).
(selectors) => {
  const canvas = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
  const channels = (colour) => {
    canvas.clearRect(0, 0, 1, 1);
    canvas.fillStyle = colour;
    canvas.fillRect(0, 0, 1, 1);
    return [...canvas.getImageData(0, 0, 1, 1).data].slice(0, 3);
  };
  const luminance = (colour) => {
    const [r, g, b] = channels(colour).map((c) => (c /= 255) <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const paper = luminance(getComputedStyle(document.documentElement).backgroundColor);
  let least = 21;
  for (const e of document.querySelectorAll(selectors)) {
    const ink = luminance(getComputedStyle(e).color);
    least = Math.min(least, (Math.max(ink, paper) + 0.05) / (Math.min(ink, paper) + 0.05));
  }
  return least;
}
