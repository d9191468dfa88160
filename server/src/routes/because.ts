import { text } from '@haspwright/engine'
import { type Actor, type Because, NOT_SIGNED_IN } from '@haspwright/register'
import { z } from 'zod'

/** Said with everything that is done to codes, and written down. */
export const becauseFields = {
  reason: text('Why', { min: 3, max: 300 }),
  who: text('Who', { max: 80 }).optional(),
}

/** Said before an order that has codes is given others. */
export const NewCodes = z.strictObject(becauseFields).meta({ title: 'Why the order is given new codes' })

export function becauseOf({ reason, who }: { reason: string; who?: string | undefined }): Because {
  return { reason, who: who ?? actorOf() }
}

/** Whoever sent a request: nobody signs in yet. */
export const actorOf = (): Actor => NOT_SIGNED_IN
