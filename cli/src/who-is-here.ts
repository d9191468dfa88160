import { userInfo } from 'node:os'
import type { Actor } from '@haspwright/register'

/** The user of the machine who works at the command line. */
export const userHere = (): string => userInfo().username

/** Who works at the command line, as far as the machine knows. */
export const whoIsHere = (): Actor => `${userHere()} at the command line`
