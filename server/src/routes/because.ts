import { text } from '@haspwright/engine'
import type { Because } from '@haspwright/register'
import { z } from 'zod'

/** Said with everything that is done to codes, and written down. */
export const becauseFields = {
  reason: text('Why', { min: 3, max: 300 }),
  who: text('Who', { max: 80 }).optional(),
}

/** Said before an order that has codes is given others. */
export const NewCodes = z.strictObject(becauseFields).meta({ title: 'Why the order is given new codes' })

export function becauseOf({ reason, who }: { reason: string; who?: string | undefined }): Because {
  return { reason, who: who ?? 'not signed in' }
}
