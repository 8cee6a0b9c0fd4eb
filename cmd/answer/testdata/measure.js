// Measures a page from within a browser and writes what it finds into the document around it. The
// test puts this into a copy of the page; pages themselves have no script.
addEventListener("load", () => {
  const luminance = ([r, g, b]) => {
    const linear = v => { v /= 255; return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; };
    return 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
  };
  const rgb = text => {
    const m = /^rgba?\(([\d.]+), ([\d.]+), ([\d.]+)(?:, ([\d.]+))?\)$/.exec(text);
    return m && m[4] !== "0" ? m.slice(1, 4).map(Number) : null;
  };
  const ratio = (a, b) => {
    const [hi, lo] = [luminance(a), luminance(b)].sort((x, y) => y - x);
    return (hi + 0.05) / (lo + 0.05);
  };
  // What a text in a drawing stands on: the last box, disc or outline under its middle that was drawn before it.
  const under = text => {
    const svg = text.ownerSVGElement, at = text.getBoundingClientRect();
    const x = at.left + at.width / 2, y = at.top + at.height / 2;
    let color = null;
    for (const e of svg.querySelectorAll("rect, circle, path, text")) {
      if (e === text) break;
      if (e.tagName === "text" || e.closest("clipPath")) continue;
      const r = e.getBoundingClientRect();
      if (e.tagName === "path" && !e.isPointInFill(new DOMPoint(x, y).matrixTransform(e.getScreenCTM().inverse()))) continue;
      if (r.left <= x && x <= r.right && r.top <= y && y <= r.bottom) color = rgb(getComputedStyle(e).fill) || color;
    }
    return color;
  };
  const background = e => {
    for (; e; e = e.parentElement) {
      const color = rgb(getComputedStyle(e).backgroundColor);
      if (color) return color;
    }
    return [255, 255, 255];
  };
  const texts = () => {
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const found = [];
    for (let n = walker.nextNode(); n; n = walker.nextNode()) {
      const e = n.parentElement;
      if (n.data.trim() && !["SCRIPT", "STYLE", "title", "desc"].includes(e.tagName)) found.push(e);
    }
    return found;
  };
  const low = [];
  let least = 99, count = 0;
  for (const e of texts()) {
    const drawn = e.tagName === "text";
    const ink = rgb(drawn ? getComputedStyle(e).fill : getComputedStyle(e).color);
    const paper = (drawn && under(e)) || background(e);
    const got = ratio(ink, paper);
    least = Math.min(least, got);
    count++;
    if (got < 4.5) low.push(`${e.textContent.slice(0, 40)}: ${got.toFixed(2)}, ${ink} on ${paper}`);
  }
  const width = () => ({ scroll: document.documentElement.scrollWidth, client: document.documentElement.clientWidth });
  const widths = { plain: width() };
  document.documentElement.style.fontSize = "200%";
  widths.letters = width();
  document.documentElement.style.fontSize = "";
  document.documentElement.style.zoom = "2";
  widths.zoomed = width();
  document.documentElement.style.zoom = "";
  const ids = [...document.querySelectorAll("[id]")].map(e => e.id);
  const words = (e, name) => (document.getElementById(e.getAttribute(name)) || { textContent: "" }).textContent.trim();
  const result = {
    dark: matchMedia("(prefers-color-scheme: dark)").matches,
    inner: innerWidth, widths, low, least, texts: count,
    requests: performance.getEntriesByType("resource").map(r => r.name),
    twice: ids.filter((id, i) => ids.indexOf(id) !== i),
    pictures: [...document.querySelectorAll("svg, img, canvas, object")].map(e => ({
      role: e.getAttribute("role") || "", name: words(e, "aria-labelledby"), about: words(e, "aria-describedby"),
    })),
    headings: [...document.querySelectorAll("h1, h2, h3")].map(e => e.tagName + " " + e.textContent.trim()),
    items: [...document.querySelectorAll("main ol > li")].map(e => e.textContent.trim()),
    tags: [...document.querySelectorAll("g.warning path")].map(e => e.dataset.mend + " " + e.dataset.row + " " + e.dataset.repeat + " " + e.dataset.stitch),
    boxes: document.querySelectorAll("input[type=checkbox]").length,
    unlabeled: [...document.querySelectorAll("input")].filter(e => !e.labels.length).length,
  };
  const out = parent.document.createElement("pre");
  out.textContent = JSON.stringify({ [window.name]: result });
  parent.document.body.append(out);
});
