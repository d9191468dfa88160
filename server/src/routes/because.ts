import { text } from '@haspwright/engine'
import { type Actor, actorText, type Because } from '@haspwright/register'
import type { Context } from 'hono'
import { z } from 'zod'
import { type AppEnv, actorOf } from '../access/routes.ts'

/** Said with everything that is done to codes, and written down with who is signed in. */
export const becauseFields = {
  reason: text('Why', { min: 3, max: 300 }),
}

/** Said before an order that has codes is given others. */
export const NewCodes = z.strictObject(becauseFields).meta({ title: 'Why the order is given new codes' })

export function becauseOf(c: Context<AppEnv>, { reason }: { reason: string }): Because {
  return { reason, who: whoDoes(c) }
}

/** Whoever sent a request, as events and the access log name them. */
export const whoDoes = (c: Context<AppEnv>): Actor => actorText(actorOf(c))
