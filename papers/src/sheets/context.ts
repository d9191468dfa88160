import type { DesignPlan, Lot, WorksPlan } from '@haspwright/engine'

/** Cells of a title block: what the sheet is, whose order, which works. */
export function titleCells(plan: WorksPlan, sheet: string, design?: DesignPlan): string[] {
  return [
    sheet,
    `order ${plan.order.id}`,
    ...(design === undefined ? [] : [`design ${design.design.id} rev ${design.design.revision}`]),
    plan.works.name,
  ]
}

export function designPlanOf(plan: WorksPlan, { design }: Lot): DesignPlan | undefined {
  return plan.designs.find((candidate) => candidate.design.id === design)
}
