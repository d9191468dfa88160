import {
  type BarHeat,
  type Design,
  type DesignPlan,
  demandOf,
  type Finding,
  planDesign,
  type Sentence,
  sentenceFor,
  tightestFirst,
  type WorksPlan,
} from '@haspwright/engine'

/** A plan as it would be with other figures: what the page shows while they are tried. */
export interface ChangedPlan {
  readonly designs: readonly DesignPlan[]
  readonly findings: readonly Finding[]
  readonly sentence: Sentence
}

/** The analysis of the bars at hand, by design: it stands in for what the stock of the works says of that bar. */
export type OwnHeats = ReadonlyMap<string, BarHeat>

/**
 * The plan with some of its designs replaced, or cut from another heat of steel. Every finding that follows from a design is computed anew; what rests on the whole order, such
 * as its bars and its due date, stays as the server planned it until the design is saved.
 */
export function changedPlan(
  plan: WorksPlan,
  changed: ReadonlyMap<string, Design>,
  own: OwnHeats = new Map(),
): ChangedPlan {
  if (changed.size === 0 && own.size === 0) return plan
  const replaced = new Set<string>()
  const renewed: Finding[] = []
  const designs = plan.designs.map((planned) => {
    const { id } = planned.design
    const heat = own.get(id)
    const design = changed.get(id) ?? (heat === undefined ? undefined : planned.design)
    if (design === undefined) return planned
    for (const row of findingsOfDesign(plan, planned)) replaced.add(row)
    const demand = demandOf(plan.order, id)
    const next =
      heat === undefined
        ? planDesign(design, plan.works, demand)
        : planDesign(
            design,
            { ...plan.works, heats: [{ ...heat, form: design.shackle.barForm }] },
            {
              ...demand,
              shackleHeats: [heat.number],
            },
          )
    renewed.push(...next.findings)
    return next.plan
  })
  const findings = tightestFirst([...plan.findings.filter(({ id }) => !replaced.has(id)), ...renewed])
  return { designs, findings, sentence: sentenceFor(findings) }
}

const ofDesign = new WeakMap<DesignPlan, readonly string[]>()

/** The findings that follow from a design as it was planned; worked out once, since every change asks for them. */
function findingsOfDesign(plan: WorksPlan, planned: DesignPlan): readonly string[] {
  const known = ofDesign.get(planned)
  if (known !== undefined) return known
  const ids = planDesign(planned.design, plan.works, demandOf(plan.order, planned.design.id)).findings.map(
    ({ id }) => id,
  )
  ofDesign.set(planned, ids)
  return ids
}
