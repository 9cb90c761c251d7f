// Checks of a page, run in the browser. Each function returns a list of
// complaints; an empty list is a pass.
const verify = (() => {
  const describe = el => {
    const id = el.id ? "#" + el.id : ""
    const classes = [...el.classList].map(c => "." + c).join("")
    return el.localName + id + classes + " " + JSON.stringify(el.textContent.trim().slice(0, 40))
  }
  const shown = el => el.checkVisibility({ visibilityProperty: true, opacityProperty: true })
  const rounds = () => [...document.querySelectorAll("li.round")]

  // Nothing reaches past the right edge, and the page can't be moved sideways.
  function sideways() {
    const wrong = []
    const width = document.documentElement.clientWidth
    if (document.documentElement.scrollWidth > width) {
      wrong.push(`the page is ${document.documentElement.scrollWidth} px wide on a screen of ${width}`)
      for (const el of document.body.querySelectorAll("*")) {
        if (el.getBoundingClientRect().right > width + 1 && !el.closest("svg *")) wrong.push(describe(el))
      }
    }
    return wrong.slice(0, 6)
  }

  // No text in the rounds is under 16 px.
  function smallText() {
    const wrong = []
    for (const round of rounds()) {
      for (const el of [round, ...round.querySelectorAll("*")]) {
        const own = [...el.childNodes].some(n => n.nodeType === Node.TEXT_NODE && n.data.trim())
        const size = parseFloat(getComputedStyle(el).fontSize)
        if (own && shown(el) && size < 16) wrong.push(`${size} px: ${describe(el)}`)
      }
    }
    return wrong
  }

  // Every round is there to be read; on paper, those that are only quoted from
  // elsewhere on the page, and so have no address, may be left out.
  function hiddenRounds() {
    const paper = matchMedia("print").matches
    const hidden = r => !shown(r) || r.getClientRects().length === 0
    return rounds().filter(r => hidden(r) && (r.id || !paper)).map(describe)
  }

  // Every picture has come, and has words.
  function pictures() {
    const wrong = []
    for (const img of document.images) {
      if (img.loading !== "lazy" && !(img.complete && img.naturalWidth > 0)) wrong.push("not loaded: " + img.src)
      if (!img.hasAttribute("alt")) wrong.push("no alt: " + img.src)
    }
    return wrong
  }

  // Everything that can be used by finger is large enough to hit: WCAG 2.2,
  // 2.5.8, 24 by 24 CSS pixels, links within a sentence excepted.
  function smallTargets() {
    const wrong = []
    for (const el of document.querySelectorAll("button, input, select, summary")) {
      const box = el.getBoundingClientRect()
      if (shown(el) && box.width > 0 && (box.width < 24 || box.height < 24)) wrong.push(`${box.width} by ${box.height} px: ${describe(el)}`)
    }
    return wrong
  }

  return { sideways, smallText, hiddenRounds, pictures, smallTargets, count: () => rounds().length }
})()
