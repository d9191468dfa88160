import {
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

/**
 * The plan with some of its designs replaced. Every finding that follows from a design is computed anew at once; what rests on the whole
 * order, such as its bars and its due date, comes from `whole`: the latest plan of the whole order with tried figures, or the plan itself.
 */
export function changedPlan(
  plan: WorksPlan,
  changed: ReadonlyMap<string, Design>,
  whole: WorksPlan = plan,
): ChangedPlan {
  if (changed.size === 0) return plan
  const planned = plan.designs.map((each) => {
    const design = changed.get(each.design.id)
    return design === undefined ? { plan: each, findings: undefined } : planOne(plan, design)
  })
  const untouched = new Set(plan.designs.filter(({ design }) => !changed.has(design.id)))
  const findings = tightestFirst([
    ...ofWholeOrder(whole),
    ...plan.findings.filter(({ id }) => [...untouched].some((each) => findingsOfDesign(plan, each).has(id))),
    ...planned.flatMap(({ findings: renewed }) => renewed ?? []),
  ])
  const { lots, barCutting } = whole
  return { designs: planned.map((each) => each.plan), findings, sentence: sentenceFor(findings), lots, barCutting }
}

const planOne = (plan: WorksPlan, design: Design) => planDesign(design, plan.works, demandOf(plan.order, design.id))

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
