// Draws an SVG file as PNG with resvg: node -e SCRIPT -- MODULE FILE, where MODULE is
// the main file of its package.
const { Resvg } = require(process.argv[1])
const svg = require("fs").readFileSync(process.argv[2], "utf8")
process.stdout.write(new Resvg(svg, { font: { loadSystemFonts: false } }).render().asPng())
