import {
  type BarHeat,
  type Design,
  type DesignPlan,
  demandOf,
  planDesign,
  sentenceFor,
  tightestFirst,
  type WorksPlan,
} from '@haspwright/engine'

/** A plan as it would be with other figures: what the page shows while they are tried. */
export type ChangedPlan = Pick<WorksPlan, 'designs' | 'findings' | 'sentence' | 'lots' | 'barCutting'>

/** The analysis of the bars at hand, by design: it stands in for what the stock of the works says of that bar. */
export type OwnHeats = ReadonlyMap<string, BarHeat>

/** What is tried on a plan. */
export interface Tried {
  readonly changed: ReadonlyMap<string, Design>
  readonly own?: OwnHeats
  /** The latest plan of the whole order with tried designs; the plan itself until there is one. */
  readonly whole?: WorksPlan | undefined
}

/**
 * The plan with some of its designs replaced, or cut from another heat of steel. Every finding that follows from a design is computed anew
 * at once; what rests on the whole order, such as its bars and its due date, comes from the latest plan of the whole order.
 */
export function changedPlan(plan: WorksPlan, { changed, own = new Map(), whole = plan }: Tried): ChangedPlan {
  if (changed.size === 0 && own.size === 0) return plan
  const designs = plan.designs.map((planned) => {
    const heat = own.get(planned.design.id)
    const design = changed.get(planned.design.id)
    if (design === undefined && heat === undefined)
      return { plan: planned, findings: plan.findings.filter(({ id }) => findingsOfDesign(plan, planned).has(id)) }
    return planOne(plan, design ?? planned.design, heat)
  })
  const findings = tightestFirst([...ofWholeOrder(whole), ...designs.flatMap((each) => each.findings)])
  const { lots, barCutting } = whole
  return { designs: designs.map((each) => each.plan), findings, sentence: sentenceFor(findings), lots, barCutting }
}

function planOne({ order, works }: WorksPlan, design: Design, heat?: BarHeat) {
  const demand = demandOf(order, design.id)
  if (heat === undefined) return planDesign(design, works, demand)
  const cutFromIt = { ...works, heats: [{ ...heat, form: design.shackle.barForm }] }
  return planDesign(design, cutFromIt, { ...demand, shackleHeats: [heat.number] })
}

function ofWholeOrder(plan: WorksPlan) {
  return plan.findings.filter(({ id }) => !plan.designs.some((each) => findingsOfDesign(plan, each).has(id)))
}

const ofDesign = new WeakMap<DesignPlan, ReadonlySet<string>>()

/** The findings that follow from a design as it was planned; worked out once, since every change asks for them. */
function findingsOfDesign(plan: WorksPlan, planned: DesignPlan): ReadonlySet<string> {
  const known = ofDesign.get(planned)
  if (known !== undefined) return known
  const ids = new Set(planOne(plan, planned.design).findings.map(({ id }) => id))
  ofDesign.set(planned, ids)
  return ids
}

/**
 * Works out once what every change asks for again: which margins follow from each design. The first figure tried is then answered as
 * quickly as the next ones.
 */
export function warmUp(plan: WorksPlan): void {
  for (const planned of plan.designs) findingsOfDesign(plan, planned)
}
