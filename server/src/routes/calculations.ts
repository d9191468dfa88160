import { calculations } from '@haspwright/engine'
import { may } from '../access/caller.ts'
import { Routes } from '../access/routes.ts'
import { findCalculation } from '../calculating.ts'
import { jsonBody } from '../json-body.ts'
import { calculationSchemas } from '../json-schemas.ts'
import type { Planner } from '../planning/planner.ts'
import { badInput, refusal } from '../replies.ts'
import { listSources, verificationSummary } from '../source-list.ts'

export const MAX_CALCULATION_BYTES = 1024 * 1024

/** Calculations and the sources they rest on. */
export function calculationRoutes({ planner }: { planner: Planner }) {
  let listed: unknown
  return new Routes()
    .get('/calc', may('calculations.use'), (c) => {
      listed ??= calculations.map((calculation) => ({
        ...calculationSchemas(calculation),
        ...(calculation.equation === undefined ? {} : { equation: calculation.equation }),
        assumes: calculation.assumes ?? [],
        cautions: calculation.cautions ?? [],
        secret: calculation.secret === true,
      }))
      return c.json({ calculations: listed })
    })
    .post('/calc/:id', may('calculations.use'), async (c) => {
      const found = findCalculation(c.req.param('id'))
      if ('issue' in found) return refusal(c, 404, [found.issue])
      const body = await jsonBody(c, MAX_CALCULATION_BYTES)
      if (!body.ok) return refusal(c, body.status, body.issues)
      const result = await planner.calculate(
        { id: found.calculation.id, input: body.value },
        { signal: c.req.raw.signal },
      )
      return result.ok ? c.json(result.result) : badInput(c, result.issues)
    })
    .get('/sources', may('calculations.use'), (c) => c.json({ summary: verificationSummary(), sources: listSources() }))
}
