import { secretShared } from './secret-markup.ts'

/**
 * Markup of the customer's chart. The squares of a row stand in one box over a ruled ground: a cell for each of hundreds of
 * thousands would take minutes to set.
 */
export const chartMatrixMarkup = `
#let column = 6.4mm
#let row = 5.6mm
#let legend = label(size: 8pt, weight: 400)[#box(width: 2.6mm, height: 2.6mm, fill: ink, baseline: 0.3mm) the key above opens the lock · own keys open this lock alone · no cut stands on this sheet]
#show: sheet.with(title: data.title, cells: data.cells, landscape: true, paper: data.paper, every-page: grid(
  columns: (1fr, auto), align: (left + bottom, right + bottom),
  text(weight: 600, size: 10pt, data.customer + ": who opens what"), legend,
))
#label(size: 9pt, data.facts)
#v(-1mm)
#let ground(n) = tiling(size: (column, row), { place(line(start: (column, 0mm), end: (column, row), stroke: 0.3pt + hair)) })
#let marks(r, n) = box(width: n * column, height: row, fill: ground(n), for m in r.marks {
  place(dx: m * column + (column - 3mm) / 2, dy: (row - 3mm) / 2, rect(width: 3mm, height: 3mm, fill: ink, stroke: none))
})
#let key-heads(heads) = box(width: heads.len() * column, height: data.headMm * 1mm, for (i, name) in heads.enumerate() {
  place(bottom + left, dx: i * column + 1mm, dy: -1mm, rotate(-90deg, reflow: true, origin: bottom + left, box(width: data.headMm * 1mm - 2mm, clip: true, label(size: 8pt, fill: ink, name))))
})
#for (i, b) in data.blocks.enumerate() {
  if i > 0 { pagebreak() }
  if b.part != "" { label(size: 9pt, fill: ink, b.part); v(-1mm) }
  let n = b.heads.len()
  table(
    columns: (42mm, 24mm, 1fr, 1fr, n * column + 1mm),
    align: left + horizon,
    inset: (x, y) => if x == 4 { (x: 0.5mm, y: 0mm) } else { (x: 1mm, y: if y == 0 { 1mm } else { 0mm }) },
    rows: (auto,) + (row,) * b.rows.len(),
    stroke: (x, y) => (bottom: if y == 0 { 0.6pt + ink } else if y < b.rows.len() and b.rows.at(y).first { 0.8pt + ink } else { 0.3pt + hair }),
    table.header(..("Lock", "Blind code", "Own keys", "Under").map(h => align(bottom, label(h))), key-heads(b.heads)),
    ..b.rows.map(r => (
      text(weight: 600, size: 8.6pt, r.name),
      figures(size: 8pt, r.blindCode),
      box(height: row, clip: true, inset: (y: 1.2mm), text(size: 8.2pt, r.own)),
      text(size: 8.2pt, fill: mid, r.under),
      marks(r, n),
    )).flatten(),
  )
}
#if data.keys.len() > 0 {
  heading-line[Keys over several locks]
  rows-table(
    columns: (1fr, 40mm, 20mm, 30mm, 20mm),
    aligns: (left, left, right, right, right),
    head: ("Key", "Blind code", "Level", "Locks it opens", "Copies"),
    data.keys.map(k => (text(weight: 600, k.at(0)), ..k.slice(1).map(c => figures(size: 8.4pt, c)))).flatten(),
  )
}
`

/** Markup of the works' cutting list. The caution stands on every page. */
export const cuttingListMarkup = `${secretShared}
#show: sheet.with(title: data.title, cells: data.cells, every-page: warning)
#label(size: 9pt)[Chart of line]
#v(-2.5mm)
#figures(size: 20pt, weight: 600, data.line)
#v(-3mm)
#data.total
#let size-of(discs) = calc.min(12pt, 92mm / (0.6 * discs.len()))
#let width-of(discs) = 0.6 * discs.len() * size-of(discs) + 2mm
#heading-line[Keys, cuts by disc]
#table(
  columns: (1fr, 25mm, width-of(data.keyDiscs), 13mm, 13mm, 10mm),
  align: (x, y) => if x < 2 { left + horizon } else { center + horizon },
  stroke: striped,
  inset: (x: 1mm, y: 1.3mm),
  table.header(label[Key], label[Blind code], columns-of(size-of(data.keyDiscs), weight: 400, fill: mid, data.keyDiscs), label[Opens], label[Copies], label[Cut]),
  ..data.keys.map(k => (
    { text(weight: 600, size: 9pt, k.name); if k.master { h(1.5mm); label[master] } },
    figures(size: 8.4pt, k.blindCode),
    columns-of(size-of(data.keyDiscs), k.cuts),
    figures(size: 9pt, k.opens),
    figures(size: 9pt, k.copies),
    tick,
  )).flatten(),
)
#pagebreak(weak: true)
#heading-line[Locks, gates by disc]
#block(text(weight: 600, data.sealing))
#table(
  columns: (26mm, 24mm, width-of(data.lockDiscs), 1fr),
  align: (x, y) => if x == 2 { center + horizon } else { left + horizon },
  stroke: striped,
  inset: (x: 1mm, y: 1.2mm),
  table.header(label[Lock], label[Lot], columns-of(size-of(data.lockDiscs), weight: 400, fill: mid, data.lockDiscs), label[Opened by]),
  ..data.locks.map(k => (
    text(weight: 600, size: 9pt, k.name),
    figures(size: 8pt, k.lot),
    columns-of(size-of(data.lockDiscs), k.gates),
    text(size: 7.8pt, k.openedBy),
  )).flatten(),
)
`
