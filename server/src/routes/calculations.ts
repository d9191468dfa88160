import { randomUUID } from 'node:crypto'
import { calculations } from '@haspwright/engine'
import type { Context } from 'hono'
import { may } from '../access/caller.ts'
import { actorOf, Routes } from '../access/routes.ts'
import { type CalculationResult, findCalculation } from '../calculating.ts'
import type { JobReplies } from '../jobs/job-replies.ts'
import { jsonBody } from '../json-body.ts'
import { calculationSchemas } from '../json-schemas.ts'
import type { Planner } from '../planning/planner.ts'
import { badInput, refusal } from '../replies.ts'
import { listSources, verificationSummary } from '../source-list.ts'

export const MAX_CALCULATION_BYTES = 1024 * 1024

/** Calculations and the sources they rest on. */
export function calculationRoutes({ planner, replies }: { planner: Planner; replies: JobReplies }) {
  let listed: unknown
  const replyOf = (c: Context, result: CalculationResult) =>
    result.ok ? c.json(result.result) : badInput(c, result.issues)
  replies.set('calculation', replyOf)
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
      const asked = { id: found.calculation.id, input: body.value }
      const { signal } = c.req.raw
      if (found.calculation.kind !== 'long') return replyOf(c, await planner.calculate(asked, { signal }))
      // Of use to its asker alone: nobody joins it, and it ends when they leave.
      const about = { kind: 'calculation', subject: asked.id, workKey: randomUUID(), isUrgent: true } as const
      return replies.run(c, { ...about, asker: actorOf(c), request: asked }, { signal })
    })
    .get('/sources', may('calculations.use'), (c) => c.json({ summary: verificationSummary(), sources: listSources() }))
}
