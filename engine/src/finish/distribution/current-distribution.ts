import { z } from 'zod'
import { longCalculation } from '../../calculation.ts'
import { rectifierCurrent } from '../../caution.ts'
import { type Refusal, refuse } from '../../issue.ts'
import { boundaryFluxes } from '../../numeric/laplace-boundary.ts'
import { atOnce, type InTurns, makeWay, turnByTurn } from '../../numeric/make-way.ts'
import { choice, count, list, percent, quantity } from '../../quantity.ts'
import { source } from '../../source.ts'
import { panelsOf, ROLES, type Section, type SectionPanel, SIDES, sectionIssues } from './section.ts'

const wagnerNumber = source({
  id: 'iupac.current-distribution',
  status: 'standard',
  citation: 'IUPAC Gold Book C01456, current distribution; Pure and Applied Chemistry 53 (1981) 1827, page 1836',
  place: 'primary and secondary distribution; Wa = (κ/l) dη/dj',
})

const stripInChannel = source({
  id: 'law.strip-in-channel',
  status: 'from memory (unverified)',
  citation:
    'Primary distribution on a strip flush in the end wall of a channel, by conformal map: j ∝ cos(πx/H)/√(sin²(πa/H) − sin²(πx/H)); for a wide channel the flat strip of the textbooks, j/j̄ = (2/π)/√(1 − x²/a²)',
  note: 'The map was worked again for this check: middle over mean is (2a/H)/sin(πa/H).',
})

const wireBetweenPlanes = source({
  id: 'law.wire-between-planes',
  status: 'from memory (unverified)',
  citation:
    'Thin round wire midway between two plane anodes, by images: w = ln tan(πz/4d), local over mean 1 ± (4/3)(πa/4d)² towards and across the anodes',
  note: 'First term of the series in a/d, worked again for this check; the next is of the order (a/d)⁴.',
})

const mm = (symbol: string | null, title: string, least: number, help?: string) =>
  quantity(symbol, 'mm', title, { min: least, max: 5000, ...(help === undefined ? {} : { help }) })
const role = choice('Role', ROLES, { part: 'Part', thief: 'Thief', shield: 'Shield, insulating', anode: 'Anode' })

/** Panels on a circle and on each side: the coarse run tells how far the fine one can be trusted. */
const COARSE = 24
const FINE = 48
const MOST_OUTLINES = 6

const distributionInput = z.strictObject({
  tankWidthMm: mm(null, 'Tank, left to right', 10),
  tankHeightMm: mm(
    null,
    'Tank, bottom to top of the cut',
    10,
    'The pitch of the rack, where its neighbours are to count',
  ),
  walls: list(
    'Stretches of wall with a role',
    z.strictObject({
      side: choice('Side', SIDES, { left: 'Left', right: 'Right', top: 'Top', bottom: 'Bottom' }),
      fromMm: mm(null, 'From, measured from the lower or left end', 0),
      toMm: mm(null, 'To', 1),
      role,
    }),
    { min: 0, max: MOST_OUTLINES },
  ),
  circles: list(
    'Round outlines',
    z.strictObject({
      role,
      xMm: mm('x', 'Middle, from the left', 0),
      yMm: mm('y', 'Middle, from the bottom', 0),
      diameterMm: mm('d', 'Diameter', 1),
    }),
    { min: 0, max: MOST_OUTLINES },
  ),
  rectangles: list(
    'Rectangles with rounded corners',
    z.strictObject({
      role,
      xMm: mm('x', 'Middle, from the left', 0),
      yMm: mm('y', 'Middle, from the bottom', 0),
      widthMm: mm('b', 'Left to right', 0.5),
      heightMm: mm('h', 'Bottom to top', 0.5),
      cornerRadiusMm: mm('r', 'Radius of the corners', 0.1),
    }),
    { min: 0, max: MOST_OUTLINES },
  ),
  conductivitySPerM: quantity(String.raw`\kappa`, 'S/m', 'Conductivity of the bath', { min: 0.01, max: 200 }),
  polarizationOhmCm2: quantity(String.raw`d\eta/dj`, 'Ω·cm²', 'Slope of the overpotential over the current density', {
    min: 0,
    max: 1000,
    help: '0 gives the primary distribution, the worst that the shape can do',
  }),
})
/** What the solution is for: a section and its bath. */
export interface DistributionInput extends Section {
  readonly conductivitySPerM: number
  readonly polarizationOhmCm2: number
}

const distributionOutput = z.strictObject({
  thinnestToMean: quantity(null, '', 'Thinnest over mean'),
  thickestToMean: quantity(null, '', 'Thickest over mean'),
  thinnestAt: z
    .strictObject({
      outline: count('Outline', { min: 0 }),
      xMm: mm('x', 'From the left', 0),
      yMm: mm('y', 'From the bottom', 0),
    })
    .meta({ title: 'Where it is thinnest' }),
  extraTimePercent: percent(null, 'Longer in the tank until the thinnest spot has the mean', { min: 0 }),
  wagnerNumber: quantity('Wa', '', 'Wagner number'),
  lengthMm: quantity('L', 'mm', 'Length it is taken over: the largest outline of a part'),
  toThievesPercent: percent(null, 'Current that goes to thieves', { min: 0, max: 100 }),
  refinementChange: quantity(null, '', 'Change of thinnest over mean when the panels were halved'),
  balanceError: quantity(null, '', 'Current in against current out, of the whole'),
  outlines: list(
    'Outlines of the parts: walls first, then circles, then rectangles, in the order given',
    z.strictObject({
      outline: count('Outline', { min: 0 }),
      meanToMean: quantity(null, '', 'Mean of this outline over the mean of all'),
      points: list(
        'Along the outline',
        z.strictObject({
          xMm: quantity('x', 'mm', 'From the left'),
          yMm: quantity('y', 'mm', 'From the bottom'),
          localToMean: quantity(null, '', 'Local over mean'),
        }),
        { max: 1000 },
      ),
    }),
    { max: 3 * MOST_OUTLINES },
  ),
})
export type DistributionAnswer = z.output<typeof distributionOutput>

/**
 * How the current spreads over parts between anodes, in a plane cut through the tank.
 *
 * Laplace's equation by boundary elements; the cathode's overpotential is straight in the current density (Wagner number), the anodes
 * hold one potential. Without polarization it is the primary distribution.
 */
export const currentDistribution = longCalculation({
  id: 'finish.current-distribution',
  title: 'Spread of thickness over a part',
  summary:
    'Local over mean current, and so thickness, along the outline of parts between anodes, with shields and thieves; where it is thinnest, and how much longer the thinnest spot takes.',
  equation: String.raw`\nabla^2\varphi = 0, \quad \varphi = \kappa\,\frac{d\eta}{dj}\,\frac{\partial\varphi}{\partial n} \text{ on parts}, \quad Wa = \frac{\kappa}{L}\,\frac{d\eta}{dj}`,
  assumes: [
    'a plane cut: parts, anodes and shields go on unchanged above and below it, the ends of parts are not seen',
    'the bath conducts the same everywhere; it is stirred well enough that metal ions do not run short',
    'overpotential rises in a straight line with current density on parts and thieves; anodes do not polarize',
    'the same share of the current deposits metal everywhere: true enough for nickel, not for chromium, whose efficiency falls with the current density',
    'bare walls insulate: a wall halfway to the next place of a rack stands for the neighbours by its mirror image',
  ],
  sources: [wagnerNumber, stripInChannel, wireBetweenPlanes],
  cautions: [rectifierCurrent],
  input: distributionInput,
  output: distributionOutput,
  examples: [
    {
      title: 'strip over half the end wall of a channel, primary: middle over mean 1/√2 (conformal map)',
      source: stripInChannel,
      input: {
        tankWidthMm: 400,
        tankHeightMm: 100,
        walls: [
          { side: 'left', fromMm: 25, toMm: 75, role: 'part' },
          { side: 'right', fromMm: 0, toMm: 100, role: 'anode' },
        ],
        circles: [],
        rectangles: [],
        conductivitySPerM: 10,
        polarizationOhmCm2: 0,
      },
      output: { thinnestToMean: Math.SQRT1_2, wagnerNumber: 0 },
      tolerance: { absolute: 0.004 },
      reason: 'mean over a panel, halved once; the change on halving is given with the result',
    },
    {
      title: 'wire of radius a midway between anodes 10 a away, primary: thinnest over mean 0.9918 (images)',
      source: wireBetweenPlanes,
      input: {
        tankWidthMm: 200,
        tankHeightMm: 600,
        walls: [
          { side: 'left', fromMm: 0, toMm: 600, role: 'anode' },
          { side: 'right', fromMm: 0, toMm: 600, role: 'anode' },
        ],
        circles: [{ role: 'part', xMm: 100, yMm: 300, diameterMm: 20 }],
        rectangles: [],
        conductivitySPerM: 10,
        polarizationOhmCm2: 0,
      },
      output: { thinnestToMean: 1 - (4 / 3) * (Math.PI / 40) ** 2, thickestToMean: 1 + (4 / 3) * (Math.PI / 40) ** 2 },
      tolerance: { absolute: 0.001 },
      reason: 'first term of the series; panels of a circle of 48 sides',
    },
  ],
  working:
    'Boundary elements: the outlines and walls are cut into straight panels, fine towards edges; on each the integral equation of the potential is held, which gives the current density of every panel. It is solved twice, the second time with half the panel length: the change between the two is given with the result.',
  async run(input, report) {
    report.progress(0, 'Coarse panels')
    return turnByTurn(
      answerInTurns(input, (text) => report.notice(text)),
      async (done) => {
        report.progress(done, 'Fine panels')
        await makeWay()
      },
    )
  },
})

/** The same without a pause, about a tenth of a second, for a plan that cannot wait. */
export function distributionAtOnce(
  input: DistributionInput,
  notice: (text: string) => void,
): DistributionAnswer | Refusal {
  return atOnce(answerInTurns(input, notice))
}

function* answerInTurns(
  { conductivitySPerM, polarizationOhmCm2, ...section }: DistributionInput,
  notice: (text: string) => void,
): InTurns<DistributionAnswer | Refusal> {
  const issues = sectionIssues(section)
  if (issues.length > 0) return refuse(...issues.slice(0, 40))
  const polarizationMm = conductivitySPerM * polarizationOhmCm2 * 0.1 // S/m · Ω·cm² → mm
  const coarse = spread(section, COARSE, polarizationMm)
  yield 0.2
  const fine = spread(section, FINE, polarizationMm)
  if (coarse === undefined || fine === undefined || fine.thinnest.local <= 0)
    return refuse({
      path: '',
      code: 'not-converged',
      message: 'The panels do not resolve this section: some part is hidden from every anode, or a gap is too narrow.',
    })
  const lengthMm = largestPart(section)
  const refinementChange = Math.abs(fine.thinnest.local - coarse.thinnest.local)
  if (refinementChange > 0.02)
    notice('Thinnest over mean still moved by more than 0.02 when the panels were halved: take it as rough.')
  return {
    thinnestToMean: fine.thinnest.local,
    thickestToMean: fine.thickest,
    thinnestAt: { outline: fine.thinnest.outline, xMm: fine.thinnest.xMm, yMm: fine.thinnest.yMm },
    extraTimePercent: Math.max(0, 100 * (1 / fine.thinnest.local - 1)),
    wagnerNumber: polarizationMm / lengthMm,
    lengthMm,
    toThievesPercent: fine.toThievesPercent,
    refinementChange,
    balanceError: fine.balanceError,
    outlines: fine.outlines,
  }
}

/** Local over mean on every panel of the parts, or `undefined` where the equations decide nothing. */
function spread(section: Section, fineness: number, polarizationMm: number) {
  const panels = panelsOf(section, fineness, polarizationMm)
  const fluxes = boundaryFluxes(panels)
  if (fluxes === undefined) return undefined
  // Current leaves the bath where the potential falls towards the metal.
  const drawn = panels.map((panel, k) => ({ panel, density: -(fluxes[k] ?? 0), length: lengthOf(panel) }))
  const total = (roles: readonly SectionPanel['role'][]) =>
    drawn.reduce((sum, { panel, density, length }) => sum + (roles.includes(panel.role) ? density * length : 0), 0)
  const parts = drawn.filter(({ panel }) => panel.role === 'part')
  const mean = total(['part']) / parts.reduce((sum, { length }) => sum + length, 0)
  const points = parts.map(({ panel: { from, to, outline }, density }) => ({
    outline,
    xMm: (from.x + to.x) / 2,
    yMm: (from.y + to.y) / 2,
    local: density / mean,
  }))
  const first = points[0]
  if (first === undefined || !points.every(({ local }) => Number.isFinite(local))) return undefined
  const metal = total(['part', 'thief'])
  return {
    thinnest: points.reduce((least, point) => (point.local < least.local ? point : least), first),
    thickest: Math.max(...points.map(({ local }) => local)),
    toThievesPercent: Math.min(100, Math.max(0, (100 * total(['thief'])) / metal)),
    balanceError: Math.abs(total(['part', 'thief', 'anode']) / metal),
    outlines: [...new Set(points.map(({ outline }) => outline))].map((outline) => {
      const own = parts.filter(({ panel }) => panel.outline === outline)
      const length = own.reduce((sum, part) => sum + part.length, 0)
      return {
        outline,
        meanToMean: own.reduce((sum, part) => sum + part.density * part.length, 0) / length / mean,
        points: points
          .filter((point) => point.outline === outline)
          .map(({ xMm, yMm, local }) => ({ xMm, yMm, localToMean: local })),
      }
    }),
  }
}

const lengthOf = ({ from, to }: SectionPanel) => Math.hypot(to.x - from.x, to.y - from.y)

function largestPart({ walls, circles, rectangles }: Section): number {
  const part = ({ role: own }: { role: string }) => own === 'part'
  return Math.max(
    ...walls.filter(part).map(({ fromMm, toMm }) => toMm - fromMm),
    ...circles.filter(part).map(({ diameterMm }) => diameterMm),
    ...rectangles.filter(part).map(({ widthMm, heightMm }) => Math.max(widthMm, heightMm)),
  )
}
