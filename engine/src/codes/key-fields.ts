import { z } from 'zod'
import { secret } from '../quantity.ts'

/** An AES key of 128, 192 or 256 bits, as a secret field. */
export const keyField = secret(
  z
    .string()
    .regex(/^([0-9a-fA-F]{32}|[0-9a-fA-F]{48}|[0-9a-fA-F]{64})$/)
    .meta({ title: 'Key', description: '32, 48 or 64 hexadecimal digits' }),
)
