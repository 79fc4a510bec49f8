// Questions that the tests ask of an open page; each is a function of this object.
const questions = {
  charts() {
    return [...document.querySelectorAll("canvas")].map(canvas => {
      const chart = Chart.getChart(canvas);
      const {width, height} = canvas;
      const pixels = canvas.getContext("2d").getImageData(0, 0, width, height).data;
      const colours = new Set();
      let inked = 0;
      for (let i = 0; i < pixels.length; i += 4) {
        if (pixels[i + 3] === 0) continue;
        ++inked;
        colours.add((pixels[i] << 16) | (pixels[i + 1] << 8) | pixels[i + 2]);
      }
      const box = canvas.getBoundingClientRect();
      return {
        id: canvas.id, label: document.getElementById(canvas.getAttribute("aria-labelledby")).textContent,
        says: document.getElementById(canvas.getAttribute("aria-describedby")).textContent,
        shown: box.width > 200 && box.height > 60, inside: box.left >= 0 && box.right <= innerWidth,
        inked: inked / (width * height), colours: colours.size,
        sets: chart.data.datasets.map(set => ({label: set.label, data: set.data})),
      };
    });
  },
  tables() {
    const out = {};
    for (const table of document.querySelectorAll("table")) {
      out[table.id] = [...table.tBodies[0].rows].filter(row => !row.classList.contains("group"))
        .map(row => [...row.cells].map(cell => cell.textContent));
    }
    return out;
  },
  overflow() {
    return document.documentElement.scrollWidth - document.documentElement.clientWidth;
  },
  outline() {
    return {
      lang: document.documentElement.lang, title: document.title,
      headings: [...document.querySelectorAll("h1,h2,h3,h4")].map(h => [+h.tagName[1], h.textContent.trim()]),
      landmarks: ["header", "main", "footer"].map(name => document.querySelectorAll("body > " + name).length),
      scripts: document.scripts.length, images: document.images.length,
      unnamed: [...document.querySelectorAll("section")].filter(s => !document.getElementById(s.getAttribute("aria-labelledby"))).length,
      untitled: [...document.querySelectorAll("table")].filter(t => !t.caption || !t.caption.textContent.trim() || !t.tHead).length,
      ids: [...document.querySelectorAll("[id]")].map(e => e.id),
    };
  },
  // Texts whose contrast to what is behind them is below WCAG's 4.5 (3 for large ones); and colours
  // that charts are drawn in, to the card, below the 3 of graphical objects.
  faint() {
    const channel = v => (v /= 255) <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
    const light = ([r, g, b]) => 0.2126 * channel(r) + 0.7152 * channel(g) + 0.0722 * channel(b);
    const contrast = (a, b) => {
      const [high, low] = [light(a), light(b)].sort((x, y) => y - x);
      return (high + 0.05) / (low + 0.05);
    };
    const numbers = text => text.match(/[\d.]+/g).map(Number);
    const behind = element => {
      for (let e = element; e; e = e.parentElement) {
        const c = numbers(getComputedStyle(e).backgroundColor);
        if (c.length === 3 || c[3] === 1) return c.slice(0, 3);
      }
      return [255, 255, 255];
    };
    const faint = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node; node = walker.nextNode();) {
      const element = node.parentElement;
      if (!node.textContent.trim() || ["SCRIPT", "STYLE"].includes(element.tagName)) continue;
      const style = getComputedStyle(element);
      const size = parseFloat(style.fontSize);
      const needed = size >= 24 || (size >= 18.66 && style.fontWeight >= 700) ? 3 : 4.5;
      const got = contrast(numbers(style.color).slice(0, 3), behind(element));
      if (got < needed) faint.push([node.textContent.trim().slice(0, 40), got]);
    }
    const probe = document.createElement("span");
    document.querySelector(".part").append(probe);
    for (const name of ["a", "b", "ink", "holds", "close", "fails"]) {
      probe.style.color = `var(--${name})`;
      const got = contrast(numbers(getComputedStyle(probe).color).slice(0, 3), behind(probe));
      if (got < 3) faint.push([name, got]);
    }
    probe.remove();
    return faint;
  },
  // What a keyboard may reach, in the order of the page, by position among all elements.
  reachable() {
    const all = [...document.querySelectorAll("*")];
    return all.flatMap((e, i) => (e.tabIndex >= 0 && e.checkVisibility()) ? [i] : []);
  },
  focused() {
    const e = document.activeElement;
    const style = getComputedStyle(e);
    return {at: [...document.querySelectorAll("*")].indexOf(e), body: e === document.body,
      outlined: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2};
  },
  // Controls smaller than the 24 CSS pixels of WCAG 2.2, 2.5.8.
  small_targets() {
    return [...document.querySelectorAll("summary, a, button")].map(e => e.getBoundingClientRect())
      .filter(box => box.height > 0 && (box.height < 24 || box.width < 24)).length;
  },
};
