// Checks of a chart that stands alone, run in the browser. All lengths are in
// CSS pixels of the window.
const verify = (() => {
  const root = document.documentElement
  const step = 0.5 // between the points that stand for a line

  // points returns the ink of a symbol, each point with half the width of the
  // pen there, or null for the pen of whoever uses it. Solid shapes have points
  // inside, too.
  const known = new Map()
  function points(symbol) {
    if (known.has(symbol)) return known.get(symbol)
    const out = []
    for (const el of symbol.querySelectorAll("path, line, circle, ellipse, rect, polyline, polygon")) {
      const own = el.transform.baseVal.consolidate()?.matrix ?? root.createSVGMatrix()
      const style = getComputedStyle(el)
      const solid = style.fill !== "none"
      const pen = style.stroke === "none" ? 0 : el.hasAttribute("stroke-width") ? parseFloat(style.strokeWidth) / 2 : null
      const length = el.getTotalLength()
      const line = []
      for (let at = 0; at <= length; at += step / 2) line.push(el.getPointAtLength(at).matrixTransform(own))
      const box = el.getBBox()
      const centre = new DOMPoint(box.x + box.width / 2, box.y + box.height / 2).matrixTransform(own)
      for (const p of line) {
        out.push({ x: p.x, y: p.y, pen })
        for (const part of solid ? [0.75, 0.5, 0.25, 0] : []) {
          out.push({ x: centre.x + (p.x - centre.x) * part, y: centre.y + (p.y - centre.y) * part, pen: 0 })
        }
      }
    }
    known.set(symbol, out)
    return out
  }

  // ink returns the points of a use as they stand in the window.
  function ink(use) {
    const symbol = document.querySelector(use.getAttribute("href"))
    if (!symbol) return [] // see unseen
    const m = use.getScreenCTM().translate(use.x.baseVal.value, use.y.baseVal.value)
    const scale = Math.hypot(m.a, m.b)
    const pen = parseFloat(getComputedStyle(use).strokeWidth) / 2
    return points(symbol).map(p => ({
      x: m.a * p.x + m.c * p.y + m.e, y: m.b * p.x + m.d * p.y + m.f, r: (p.pen ?? pen) * scale,
    }))
  }

  const uses = () => [...document.querySelectorAll("[data-round] use")]
  const name = use => {
    const round = use.closest("[data-round]")
    const all = [...round.querySelectorAll("use")]
    return `${use.getAttribute("href")} (${all.indexOf(use) + 1} of round ${round.dataset.round})`
  }

  // overlaps lists the pairs of symbols whose ink meets by more than a tenth of
  // a pixel.
  function overlaps() {
    const reach = 4 // no pen is wider
    const cells = new Map()
    const found = new Map()
    uses().forEach((use, i, all) => {
      for (const p of ink(use)) {
        const cx = Math.floor(p.x / reach), cy = Math.floor(p.y / reach)
        for (let x = cx - 1; x <= cx + 1; x++) for (let y = cy - 1; y <= cy + 1; y++) {
          for (const q of cells.get(x * 65536 + y) ?? []) {
            if (q.use === i) continue
            const by = p.r + q.r - Math.hypot(p.x - q.x, p.y - q.y)
            const pair = q.use + " " + i
            if (by > 0.1 && by > (found.get(pair)?.by ?? 0)) found.set(pair, { by, say: `${name(all[q.use])} and ${name(use)}` })
          }
        }
        const cell = cx * 65536 + cy
        if (!cells.has(cell)) cells.set(cell, [])
        cells.get(cell).push({ ...p, use: i })
      }
    })
    return [...found.values()].map(f => `${f.say}, by ${f.by.toFixed(2)} px`)
  }

  // outside lists what reaches out of the drawing: symbols, lines and words.
  function outside() {
    const wrong = []
    const { left, top, right, bottom } = root.getBoundingClientRect()
    for (const use of uses()) {
      if (ink(use).some(p => p.x - p.r < left || p.x + p.r > right || p.y - p.r < top || p.y + p.r > bottom)) wrong.push(name(use))
    }
    for (const el of root.querySelectorAll("text, path, line, circle, ellipse, rect")) {
      if (el.closest("defs")) continue
      const box = el.getBoundingClientRect()
      if (box.left < left - 0.1 || box.right > right + 0.1 || box.top < top - 0.1 || box.bottom > bottom + 0.1) {
        wrong.push(`${el.localName} ${JSON.stringify(el.textContent || el.getAttribute("d")?.slice(0, 30) || "")}`)
      }
    }
    return wrong
  }

  // unseen lists the symbols that Chromium draws nothing for.
  function unseen() {
    return uses().filter(use => {
      const box = use.getBoundingClientRect()
      return !document.querySelector(use.getAttribute("href")) || box.width <= 0 || box.height <= 0
    }).map(name)
  }

  // words lists words that lie over other words.
  function words() {
    const boxes = [...root.querySelectorAll("text")].map(el => ({ el, ...el.getBoundingClientRect().toJSON() }))
    const wrong = []
    boxes.forEach((a, i) => boxes.slice(i + 1).forEach(b => {
      const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left)
      const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top)
      if (wide > 1 && high > 0.35 * Math.min(a.height, b.height)) wrong.push(`${a.el.textContent} and ${b.el.textContent}`)
    }))
    return wrong
  }

  // covered lists words that a symbol is drawn over.
  function covered() {
    const wrong = []
    const boxes = [...root.querySelectorAll("[data-round] text")].map(el => {
      const box = el.getBoundingClientRect()
      const m = el.getScreenCTM()
      const base = m.f + m.d * el.y.baseVal[0].value
      return { el, left: box.left, right: box.right, bottom: base, top: base - 0.7 * m.d * parseFloat(getComputedStyle(el).fontSize) }
    })
    for (const use of uses()) {
      const all = ink(use)
      for (const b of boxes) {
        if (all.some(p => p.x + p.r > b.left && p.x - p.r < b.right && p.y + p.r > b.top && p.y - p.r < b.bottom)) {
          wrong.push(`${b.el.textContent} of round ${b.el.closest("[data-round]").dataset.round} and ${name(use)}`)
        }
      }
    }
    return wrong
  }

  // legs returns the straight parts of the lines from stitches to what they are
  // worked into, leg by leg, as they stand in the window.
  function legs() {
    const out = []
    for (const el of document.querySelectorAll("[data-round] path.l")) {
      const m = el.getScreenCTM()
      const at = (x, y) => ({ x: m.a * x + m.c * y + m.e, y: m.b * x + m.d * y + m.f })
      let x = 0, y = 0, leg = null
      for (const [, op, numbers] of el.getAttribute("d").matchAll(/([a-z])([^a-z]*)/g)) {
        const n = (numbers.match(/-?(\d*\.)?\d+/g) ?? []).map(Number)
        for (let i = 0; i + 1 < n.length; i += 2) {
          x += n[i], y += n[i + 1]
          if (op === "m" && i === 0) out.push(leg = { round: el.closest("[data-round]"), ends: [] })
          leg.ends.push(at(x, y))
        }
      }
    }
    return out
  }

  // crossing lists the legs that cross each other, and those that cross a symbol
  // other than the one they begin at and the one they end at. As in print, a leg to
  // a round before the one below is drawn over what stands between.
  function crossing() {
    const wrong = new Set()
    const all = legs()
    if (all.length === 0 && document.querySelector('[data-round] [href="#mark-inc"]')) return ["no leg is found, but increases have some"]
    const side = (a, b, p) => (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)
    const clear = 0.3 // so far, in pixels, an end must lie beyond the other line
    const apart = (a, b, p, q) => {
      const length = Math.hypot(b.x - a.x, b.y - a.y) || 1
      const s = side(a, b, p) / length, t = side(a, b, q) / length
      return Math.min(s, t) < -clear && Math.max(s, t) > clear
    }
    const cells = new Map(), size = 60
    const around = (a, b, do_) => {
      for (let x = Math.floor(Math.min(a.x, b.x) / size); x <= Math.floor(Math.max(a.x, b.x) / size); x++) {
        for (let y = Math.floor(Math.min(a.y, b.y) / size); y <= Math.floor(Math.max(a.y, b.y) / size); y++) do_(x * 65536 + y)
      }
    }
    all.forEach((leg, n) => leg.ends.slice(1).forEach((b, i) => around(leg.ends[i], b, cell => {
      if (!cells.has(cell)) cells.set(cell, [])
      for (const other of cells.get(cell)) {
        if (other.n === n) continue
        if (apart(leg.ends[i], b, other.a, other.b) && apart(other.a, other.b, leg.ends[i], b)) {
          wrong.add(`legs of round ${leg.round.dataset.round} and of round ${all[other.n].round.dataset.round} at ${Math.round(b.x)}, ${Math.round(b.y)}`)
        }
      }
      cells.get(cell).push({ n, a: leg.ends[i], b })
    })))
    const stitches = new Map() // by cell, the ink of the symbols
    for (const use of uses()) {
      if (!/^#(st|pale-st|mark-blo|mark-flo)/.test(use.getAttribute("href"))) continue
      for (const p of ink(use)) {
        const cell = Math.floor(p.x / size) * 65536 + Math.floor(p.y / size)
        if (!stitches.has(cell)) stitches.set(cell, [])
        stitches.get(cell).push({ ...p, use })
      }
    }
    for (const leg of all) {
      const own = new Set() // what it begins and ends at, and what stands there
      const touch = p => around({ x: p.x - 8, y: p.y - 8 }, { x: p.x + 8, y: p.y + 8 }, cell => {
        for (const q of stitches.get(cell) ?? []) if (Math.hypot(p.x - q.x, p.y - q.y) < q.r + 2.5) own.add(q.use)
      })
      touch(leg.ends.at(-1))
      const number = use => +use.closest("[data-round]").dataset.round
      const deepest = Math.max(...[...own].map(number), -1)
      const between = use => deepest >= 0 && number(use) > deepest && number(use) < +leg.round.dataset.round
      touch(leg.ends[0])
      leg.ends.slice(1).forEach((b, i) => {
        const a = leg.ends[i], n = Math.ceil(Math.hypot(b.x - a.x, b.y - a.y))
        for (let k = 0; k <= n; k++) {
          const p = { x: a.x + (b.x - a.x) * k / n, y: a.y + (b.y - a.y) * k / n }
          around(p, p, cell => {
            for (const q of stitches.get(cell) ?? []) {
              if (!own.has(q.use) && !between(q.use) && Math.hypot(p.x - q.x, p.y - q.y) < q.r) wrong.add(`leg of round ${leg.round.dataset.round} and ${name(q.use)}`)
            }
          })
        }
      })
    }
    return [...wrong]
  }

  // smallText lists words that are smaller than 10 pixels at the drawing's own size.
  function smallText() {
    return [...root.querySelectorAll("text")].map(el => ({ el, px: parseFloat(getComputedStyle(el).fontSize) * el.getScreenCTM().d }))
      .filter(({ px }) => px < 9.99).map(({ el, px }) => `${px.toFixed(1)} px: ${el.textContent}`)
  }

  // rounds returns what the rounds show: the kind and the place of every stitch,
  // in the units of the drawing, as the browser has placed it.
  function rounds() {
    const back = root.getScreenCTM().inverse()
    return [...document.querySelectorAll("[data-round]")].map(g => ({
      round: +g.dataset.round, count: +g.dataset.count,
      stitches: [...g.querySelectorAll('use[href^="#st-"]')].map(use => {
        const m = back.multiply(use.getScreenCTM()).translate(use.x.baseVal.value, use.y.baseVal.value)
        return { kind: use.getAttribute("href").slice(4), x: m.e, y: m.f }
      }),
    }))
  }

  // style adds a style sheet to the chart.
  function style(text) {
    const el = document.createElementNS("http://www.w3.org/2000/svg", "style")
    el.textContent = text
    root.append(el)
  }

  const size = () => ({ width: root.width.baseVal.value, height: root.height.baseVal.value })
  return { overlaps, outside, unseen, words, covered, crossing, smallText, rounds, style, size }
})()
