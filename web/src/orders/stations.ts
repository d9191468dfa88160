import type { DesignPlan, Finding, OperationPlan } from '@haspwright/engine'

/** A step of the route as its station shows it. */
export interface Station {
  readonly operation: OperationPlan
  /** Its own findings, tightest first. */
  readonly findings: readonly Finding[]
  /** Its tightest margin as a share; absent where none is known. */
  readonly tightest?: number
  readonly verdict: 'holds' | 'falls-short' | 'not-known' | 'nothing-asked'
}

export function stationsOf(plan: DesignPlan, findings: readonly Finding[]): readonly Station[] {
  return plan.operations.map((operation) => {
    const own = findings.filter((finding) => finding.operation === operation.id)
    const tightest = own.find(({ marginShare }) => marginShare !== undefined)?.marginShare
    const verdict = own.some((finding) => finding.verdict === 'falls-short')
      ? 'falls-short'
      : tightest !== undefined
        ? 'holds'
        : own.length > 0
          ? 'not-known'
          : 'nothing-asked'
    return { operation, findings: own, verdict, ...(tightest === undefined ? {} : { tightest }) }
  })
}

/** The step that a finding stands at, as the list names it: `Close`, with the design where there are several. */
export function stationNames(designs: readonly DesignPlan[]): (finding: Pick<Finding, 'operation'>) => string {
  const names = new Map(
    designs.flatMap(({ design, operations }) =>
      operations.map(({ id, title }) => [id, designs.length > 1 ? `${title}, ${design.title}` : title] as const),
    ),
  )
  return ({ operation }) => names.get(operation) ?? 'whole order'
}
