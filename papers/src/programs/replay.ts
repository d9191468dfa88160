import type { Issue } from '@haspwright/engine'
import { type Block, blockName, type Word } from './parse-program.ts'

/** A place of the tool tip, mm; `null` where the program has not said it since the tool or the work was changed. */
export interface Place {
  readonly x: number | null
  readonly y: number | null
  readonly z: number | null
}

/** One straight move, as the machine would make it. Arcs come as many short ones. */
export interface Move {
  readonly block: Pick<Block, 'line' | 'number'>
  /** Which clamping it belongs to, from 0; −1 before the first stop for clamping. */
  readonly clamping: number
  readonly kind: 'rapid' | 'feed'
  readonly from: Place
  readonly to: Place
  readonly tool: number | null
  /** Turns a minute; 0 while the spindle stands, negative the wrong way round. */
  readonly spindleRpm: number
  readonly feedMmPerMin: number
}

export interface Replay {
  readonly moves: readonly Move[]
  readonly clampings: number
  readonly issues: readonly Issue[]
}

const NOWHERE: Place = { x: null, y: null, z: null }
/** Words that are replayed; all of ISO 6983. Others are refused, not passed over. */
const PREPARATORY = [0, 1, 2, 3, 4, 17, 40, 70, 71, 80, 90, 94]
const MISCELLANEOUS = [0, 2, 3, 4, 5, 6, 8, 9, 30]
const LETTERS = 'GXYZIJFSTM'
/** Arcs are followed in steps of this angle, and both ends must lie on one circle to this. */
const ARC_STEP_RAD = Math.PI / 180
const ARC_MM = 0.01

/** Follows a program block by block: modal words, units, tool, spindle, feed, clampings, moves. */
export function replay(blocks: readonly Block[]): Replay {
  const machine = new Machine()
  for (const block of blocks) machine.run(block)
  machine.end()
  return machine
}

class Machine implements Replay {
  readonly moves: Move[] = []
  readonly issues: Issue[] = []
  private clamping = -1
  private place = NOWHERE
  private motion: 0 | 1 | 2 | 3 | null = null
  private mmPerUnit: number | null = null
  private isAbsolute = false
  private isPerMinute = false
  private feed = 0
  private speed = 0
  private turns: -1 | 0 | 1 = 0
  private chosen: number | null = null
  private tool: number | null = null
  private isOver = false
  private block: Block = { line: 0, number: null, words: [] }

  get clampings(): number {
    return this.clamping + 1
  }

  run(block: Block): undefined {
    this.block = block
    if (this.isOver) return this.complain('stands after the end of the program.')
    const { words } = block
    const values = (letter: string) => words.filter((word) => word.letter === letter).map(({ value }) => value)
    const unknown = words.filter(({ letter }) => !LETTERS.includes(letter))
    for (const { letter } of unknown) this.complain(`has a letter that is not replayed here: ${letter}.`, LETTERS)
    for (const g of values('G')) this.prepare(g)
    const [f, s, t] = [values('F')[0], values('S')[0], values('T')[0]]
    const dwells = values('G').includes(4)
    if (f !== undefined && !dwells) this.feed = f * (this.mmPerUnit ?? 1)
    if (s !== undefined) this.speed = s
    if (t !== undefined) this.chosen = t
    for (const m of values('M')) if ([3, 4, 6, 8].includes(m)) this.switchOn(m)
    if (!dwells) this.travel(words)
    for (const m of values('M')) if (![3, 4, 6, 8].includes(m)) this.switchOff(m)
  }

  end(): undefined {
    if (!this.isOver) this.complain('is the last, and the program does not end: M30 is missing.')
  }

  private complain(what: string, allowed?: string): undefined {
    this.issues.push({
      path: blockName(this.block),
      code: 'contradiction',
      message: `This block ${what}`,
      ...(allowed === undefined ? {} : { allowed }),
    })
  }

  private prepare(g: number): undefined {
    if (!PREPARATORY.includes(g)) {
      const what =
        g === 91
          ? 'counts from the last place (G91); only absolute figures are replayed.'
          : `has G${g}, which is not replayed here.`
      this.complain(what, PREPARATORY.map((each) => `G${each}`).join(', '))
    } else if (g === 0 || g === 1 || g === 2 || g === 3) this.motion = g
    else if (g === 70 || g === 71) this.mmPerUnit = g === 70 ? 25.4 : 1
    else if (g === 90) this.isAbsolute = true
    else if (g === 94) this.isPerMinute = true
  }

  private switchOn(m: number): undefined {
    if (m === 3 || m === 4) this.turns = m === 3 ? 1 : -1
    if (m !== 6) return
    if (this.chosen === null) return this.complain('changes the tool, and no T says to which.')
    this.tool = this.chosen
    this.place = NOWHERE
    this.turns = 0
  }

  private switchOff(m: number): undefined {
    if (!MISCELLANEOUS.includes(m))
      this.complain(`has M${m}, which is not replayed here.`, MISCELLANEOUS.map((each) => `M${each}`).join(', '))
    if (m === 5 || m === 0) this.turns = 0
    if (m === 2 || m === 30) this.isOver = true
    if (m !== 0) return
    this.clamping++
    this.place = NOWHERE
    this.tool = null // the tool is called anew: nobody knows what was changed while the machine stood
  }

  private travel(words: readonly Word[]): undefined {
    const scale = this.mmPerUnit
    const at = (letter: string) => words.find((word) => word.letter === letter)?.value
    const [x, y, z] = [at('X'), at('Y'), at('Z')]
    if (x === undefined && y === undefined && z === undefined) return
    if (scale === null) return this.complain('moves before a unit is stated (G71 for millimetres).')
    if (!this.isAbsolute) return this.complain('moves before G90 says that figures count from zero.')
    if (this.motion === null) return this.complain('moves, and no G0 or G1 says how.')
    if (this.motion !== 0 && !this.isPerMinute) return this.complain('feeds before G94 says that F is per minute.')
    const to: Place = {
      x: x === undefined ? this.place.x : x * scale,
      y: y === undefined ? this.place.y : y * scale,
      z: z === undefined ? this.place.z : z * scale,
    }
    if (this.motion < 2) this.add(this.motion === 0 ? 'rapid' : 'feed', to)
    else this.arc(to, { i: (at('I') ?? 0) * scale, j: (at('J') ?? 0) * scale })
  }

  private add(kind: Move['kind'], to: Place): undefined {
    const { block, clamping, place, tool } = this
    this.moves.push({
      block: { line: block.line, number: block.number },
      clamping,
      kind,
      from: place,
      to,
      tool,
      spindleRpm: this.turns * this.speed,
      feedMmPerMin: this.feed,
    })
    this.place = to
  }

  private arc(to: Place, { i, j }: { i: number; j: number }): undefined {
    const { x, y, z } = this.place
    if (x === null || y === null || z === null || to.x === null || to.y === null || to.z === null)
      return this.complain('is an arc from a place that is not known.')
    const [cx, cy] = [x + i, y + j]
    const radius = Math.hypot(i, j)
    if (radius === 0 || Math.abs(Math.hypot(to.x - cx, to.y - cy) - radius) > ARC_MM)
      return this.complain('is an arc whose ends do not lie on one circle about I and J.')
    const start = Math.atan2(-j, -i)
    const turn = this.motion === 3 ? 1 : -1
    let sweep = turn * (Math.atan2(to.y - cy, to.x - cx) - start)
    if (sweep <= 1e-9) sweep += 2 * Math.PI
    const steps = Math.max(1, Math.ceil(sweep / ARC_STEP_RAD))
    for (let k = 1; k < steps; k++) {
      const angle = start + (turn * sweep * k) / steps
      this.add('feed', {
        x: cx + radius * Math.cos(angle),
        y: cy + radius * Math.sin(angle),
        z: z + ((to.z - z) * k) / steps,
      })
    }
    this.add('feed', to)
  }
}
