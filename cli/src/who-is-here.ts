import { userInfo } from 'node:os'
import type { Actor } from '@haspwright/register'

/** Who works at the command line, as far as the machine knows. */
export const whoIsHere = (): Actor => `${userInfo().username} at the command line`
