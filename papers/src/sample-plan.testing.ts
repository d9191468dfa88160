import {
  acidPickle,
  type CodeAllocation,
  type DesignPlan,
  type Evidence,
  type Finding,
  finding,
  hydrogenEmbrittlement,
  keyCodesAreSecret,
  type Lot,
  movingMachinery,
  type OperationKind,
  type OperationPlan,
  quenchOil,
  sealingIsFinal,
  tightestFirst,
  unknown,
  type WorksPlan,
} from '@haspwright/engine'
import harbour from '../../demo/designs/hb50.json' with { type: 'json' }
import order from '../../demo/orders/26-041-harbour.json' with { type: 'json' }
import works from '../../demo/works.json' with { type: 'json' }

/** A plan written by hand, so that the papers are tested without the planner: small, with every kind of row. */

const design = harbour as DesignPlan['design']

const cautions: Partial<Record<OperationKind, OperationPlan['cautions']>> = {
  'cut-bar': [movingMachinery],
  harden: [quenchOil],
  clean: [acidPickle, hydrogenEmbrittlement],
  'cut-keys': [keyCodesAreSecret],
  close: [sealingIsFinal],
}

export function evidenceOfDeposit(): Evidence {
  const input = { metal: 'nickel', areaDm2: 1.2, currentDensityAPerDm2: 4, efficiencyPercent: 95, thicknessUm: 34 }
  return {
    calculation: 'finish.deposit',
    input,
    working: [
      {
        finds: 'Time in the tank',
        formula: String.raw`t = \frac{h\,n\,F\,\rho}{j\,M\,\eta}`,
        filled: String.raw`t = \frac{3.4 \times 10^{-5} \cdot 2 \cdot 96485 \cdot 8908}{400 \cdot 0.05869 \cdot 0.95}\,\text{s} = 43.6\,\text{min}`,
      },
    ],
    sources: [
      { id: 'sample', status: 'from memory (unverified)', citation: 'A sample source for tests', place: 'page 1' },
    ],
    notices: ['An assumption that travels with the answer.'],
    shares: [
      { name: 'Notch depth', share: 0.6 },
      { name: 'Ball diameter', share: 0.4 },
    ],
  }
}

function step({ operation, workCentre, setupMinutes }: (typeof design)['route'][number]): OperationPlan {
  return {
    operation,
    id: `${design.id}/${operation}`,
    title: operation.replaceAll('-', ' '),
    instruction: `Do the step ${operation} as the drawing shows.`,
    workCentre,
    settings: [
      { title: 'Time in the tank', value: 38.25, unit: 'min', evidence: evidenceOfDeposit() },
      { title: 'Quench in', value: 'oil', unit: '' },
      { title: 'Something open', value: null, unit: 'mm', because: 'It is measured on a trial part.' },
    ],
    sizes: [
      {
        feature: 'Heel bore',
        beforePlatingMm: { minMm: 9.274, maxMm: 9.314 },
        finishedMm: { minMm: 9.25, maxMm: 9.31 },
      },
      { feature: 'Height', beforePlatingMm: null, finishedMm: { minMm: 55.9, maxMm: 56.1 } },
    ],
    gauges: [{ feature: 'Heel bore', kind: 'plug', goMm: 9.274, noGoMm: 9.314, stage: 'before plating' }],
    setupMinutes,
    time: { minutes: 2.5, per: 'piece', of: 'locks' },
    record: ['Height of the first and every fiftieth piece', 'Bar heat number'],
    cautions: cautions[operation] ?? [],
  }
}

const base = { operation: 'HB50/close', unit: 'mm', askedBy: 'design HB50' } as const

export const sampleFindings: readonly Finding[] = tightestFirst([
  finding(
    { ...base, id: 'HB50/close/release', title: 'Release clearance at −40 °C', sense: 'at-least', limit: 0.05 },
    {
      predicted: { value: 0.046, low: 0.03, high: 0.062 },
      evidence: evidenceOfDeposit(),
      remedy: 'Deepen the barrel recess from 2.60 to 2.65 mm.',
    },
  ),
  finding(
    { ...base, id: 'HB50/close/engage', title: 'Locked engagement', sense: 'at-least', limit: 2.4 },
    {
      predicted: { value: 2.54 },
      evidence: { ...evidenceOfDeposit(), working: 'Every chain of the part is added up.' },
    },
  ),
  unknown(
    { ...base, id: 'HB50/prove/pull', title: 'Pull on the shackle', sense: 'at-least', limit: 8896, unit: 'N' },
    'No test has been made.',
  ),
])

export const sampleLot: Lot = {
  id: '26-041-A1',
  line: 'A',
  design: design.id,
  keying: 'keyed different',
  locks: 120,
  keys: 240,
  firstLock: 1,
  lastLock: 120,
  steps: design.route.map(({ operation }, i) => ({
    operation,
    loads: i % 3 === 0 ? null : 3,
    minutes: i % 5 === 4 ? null : 75,
  })),
  sampling: { sampleSize: 32, accept: 1, reject: 2, inspectAll: false },
}

export const samplePlan: WorksPlan = {
  schema: 'haspwright/works-plan/1',
  order: order as WorksPlan['order'],
  works: works as WorksPlan['works'],
  sentence: {
    verdict: 'falls-short',
    headline: 'One margin falls short',
    detail: 'at −40 °C the shackle drags by 4 µm.',
    action: 'Deepen the barrel recess from 2.60 to 2.65 mm.',
  },
  findings: sampleFindings,
  designs: [
    {
      design,
      operations: design.route.map(step),
    },
  ],
  lots: [sampleLot],
  barCutting: [
    {
      form: 'round 9',
      section: { kind: 'round', diameterMm: 9 },
      pieces: [{ name: 'HB50 shackle', lengthMm: 172.36, quantity: 480 }],
      layout: {
        bars: 30,
        layouts: [{ stockLengthMm: 3000, times: 30, pieces: { 'HB50 shackle': 16 }, offcutMm: 161.6 }],
        lowerBound: 30,
        proven: true,
        usePercent: 91.9,
      },
      inStock: 34,
      kerfMm: 1.6,
      endTrimMm: 10,
      gripMm: 45,
    },
    {
      form: 'flat 50 × 25',
      section: { kind: 'flat', widthMm: 50, thicknessMm: 25 },
      pieces: [{ name: 'HB50 body', lengthMm: 56.8, quantity: 480 }],
      because: 'There is no such bar in stock.',
      inStock: 0,
      kerfMm: 1.6,
      endTrimMm: 10,
      gripMm: 45,
    },
  ],
  notices: [],
}

/** Cuts that can be found again in any paper they leak into: no size of the design looks like them. */
export const sampleAllocation: CodeAllocation = {
  order: samplePlan.order.id,
  keys: [
    {
      name: 'A-001',
      lot: sampleLot.id,
      blindCode: 'QX71-4',
      cuts: [5, 4, 5, 4, 5, 4, 3, 3, 1],
      copies: 2,
      master: false,
    },
    {
      name: 'A-master',
      lot: sampleLot.id,
      blindCode: 'QX72-9',
      cuts: [1, 1, 3, 3, 4, 5, 4, 5, 4],
      copies: 1,
      master: true,
    },
  ],
  locks: [
    {
      name: 'A-001',
      lot: sampleLot.id,
      design: design.id,
      blindCode: 'QX71-4',
      gates: [
        [5, 1],
        [4, 1],
        [5, 3],
        [4, 3],
        [5, 4],
        [4, 5],
        [3, 4],
        [3, 5],
        [1, 4],
      ],
      openedBy: ['A-001', 'A-master'],
      tryKeys: ['A-017', 'A-044'],
    },
  ],
  given: [],
  notices: [],
}
