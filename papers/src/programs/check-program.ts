import type { Issue, MachiningJob } from '@haspwright/engine'
import { checkFeatures, type MadeFeature } from './check-features.ts'
import { checkMoves } from './check-moves.ts'
import { parseProgram } from './parse-program.ts'
import { type Move, replay } from './replay.ts'

export interface ProgramReport {
  readonly blocks: number
  readonly moves: number
  /** Time under feed, without rapids, tool changes and clamping. */
  readonly feedMinutes: number
  readonly made: readonly MadeFeature[]
}

export type ProgramCheck =
  | { readonly ok: true; readonly report: ProgramReport }
  | { readonly ok: false; readonly issues: readonly Issue[] }

/**
 * Replays a program against its job: every bore and notch at its place, size and depth, no rapid through material, nothing near jaws
 * or outside the travel, no tool faster than it may go. A program that passes is no proof for a machine: its control, its
 * tool lengths and its zero are not in the file.
 */
export function checkProgram(text: string, job: MachiningJob): ProgramCheck {
  const parsed = parseProgram(text)
  if (!parsed.ok) return parsed
  const played = replay(parsed.blocks)
  const issues: Issue[] = [...played.issues]
  if (played.clampings !== job.clampings.length)
    issues.push({
      path: '',
      code: 'contradiction',
      message: `The program stops for ${played.clampings} clampings (M0); the job has ${job.clampings.length}.`,
      allowed: job.clampings.map(({ name }) => name).join(', '),
    })
  const early = played.moves.find(({ clamping }) => clamping < 0)
  if (early !== undefined)
    issues.push({
      path: `line ${early.block.line}`,
      code: 'contradiction',
      message: 'The program moves before the work is clamped (M0).',
    })
  const made: MadeFeature[] = []
  for (const [i, clamping] of job.clampings.entries()) {
    const moves = played.moves.filter((move) => move.clamping === i)
    const followed = checkMoves(moves, clamping, job)
    const found = checkFeatures(clamping, followed.cuts, job)
    issues.push(...followed.issues, ...found.issues)
    made.push(...found.made)
  }
  if (issues.length > 0) return { ok: false, issues }
  return {
    ok: true,
    report: { blocks: parsed.blocks.length, moves: played.moves.length, feedMinutes: feedMinutes(played.moves), made },
  }
}

function feedMinutes(moves: readonly Move[]): number {
  return moves.reduce((sum, { kind, from, to, feedMmPerMin }) => {
    if (kind === 'rapid' || feedMmPerMin <= 0) return sum
    const along = (axis: 'x' | 'y' | 'z') => (to[axis] ?? 0) - (from[axis] ?? to[axis] ?? 0)
    return sum + Math.hypot(along('x'), along('y'), along('z')) / feedMmPerMin
  }, 0)
}
