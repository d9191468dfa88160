import { formatFixed, formatNumber } from '@haspwright/engine'
import type { LockMesh, DesignSolidReport as SolidReport } from '@haspwright/server/client'

/** A part of the lock with how often it stands in it. */
export interface PartFacts {
  readonly title: string
  readonly count: number
  readonly material: string | undefined
  readonly volumeMm3: number
  /** Of one; absent where no material is known of it. */
  readonly massG: number | undefined
}

/** The parts of the assembled lock, in its order. */
export function partFacts({ parts }: SolidReport, { placed }: Pick<LockMesh, 'placed'>): readonly PartFacts[] {
  return parts.flatMap(({ key, title, material, volumeMm3, massG }) => {
    const count = placed.filter(({ part }) => part === key).length
    return count === 0 ? [] : [{ title, count, material, volumeMm3, massG }]
  })
}

/** Mass of all parts whose material is known, g, and how many pieces are not in it. */
export function lockMass(facts: readonly PartFacts[]): { readonly massG: number; readonly without: number } {
  return {
    massG: facts.reduce((sum, { massG = 0, count }) => sum + massG * count, 0),
    without: facts.reduce((sum, { massG, count }) => sum + (massG === undefined ? count : 0), 0),
  }
}

/** What each state says of parts that share room: all clear, or which. */
export function interferenceByState(
  { interference: { interferences } }: SolidReport,
  states: readonly string[],
): readonly { readonly state: string; readonly words: string; readonly clear: boolean }[] {
  return states.map((state) => {
    const found = interferences.filter((pair) => pair.state === state)
    const words = found.map(({ parts: [a, b], commonMm3 }) => `${a} and ${b} share ${formatNumber(commonMm3, 3)} mm³`)
    return {
      state,
      clear: found.length === 0,
      words: found.length === 0 ? 'no two parts share room' : words.join('; '),
    }
  })
}

/** The walls to list: the four thinnest, and every other that falls short. */
export function listedWalls({ walls }: SolidReport): SolidReport['walls'] {
  return walls.filter(({ holds }, i) => i < 4 || !holds)
}

type Contact = SolidReport['interference']['pairs'][number]['contacts'][number]

/** Two parts, and how they stand to each other in each state. */
export interface ContactRow {
  readonly parts: string
  readonly cells: readonly { readonly words: string; readonly short: boolean }[]
}

/** The pairs that come near each other, those in trouble first; pairs of equal parts that stand alike are told once, with their number. */
export function contactRows({ interference: { pairs } }: SolidReport): readonly ContactRow[] {
  const rows = new Map<string, { row: ContactRow; of: string; count: number }>()
  for (const { parts, contacts } of pairs) {
    const cells = contacts.map((contact) => ({ words: contactWords(contact), short: contact.kind === 'shares room' }))
    const kinds = parts.map((part) => part.replace(/ \d+$/, '')).join(' – ')
    const key = `${kinds}|${cells.map(({ words }) => words).join('|')}`
    const known = rows.get(key)
    if (known === undefined) rows.set(key, { row: { parts: parts.join(' – '), cells }, of: kinds, count: 1 })
    else known.count++
  }
  return [...rows.values()]
    .map(({ row, of, count }) => (count === 1 ? row : { ...row, parts: `${of}, ${count} pairs` }))
    .sort((a, b) => Number(isInTrouble(b)) - Number(isInTrouble(a)))
}

const isInTrouble = ({ cells }: ContactRow) => cells.some(({ short }) => short)

function contactWords(contact: Contact): string {
  switch (contact.kind) {
    case 'shares room':
      return `share ${formatNumber(contact.commonMm3, 3)} mm³`
    case 'touches':
      return 'touch'
    case 'clears':
      return `${formatFixed(contact.gapMm, 3)} mm`
    case 'apart':
      return 'apart'
  }
}

/** One sentence for who does not see the picture. */
export function factsInWords(report: SolidReport, mesh: Pick<LockMesh, 'placed' | 'states'>): string {
  const { massG, without } = lockMass(partFacts(report, mesh))
  const [thinnest] = report.walls
  const mass = `Mass ${formatNumber(massG, 4)} g${without === 0 ? '' : ` without ${without} ${without === 1 ? 'part' : 'parts'} of unknown material`}`
  const wall =
    thinnest === undefined
      ? ''
      : `; thinnest wall ${formatNumber(thinnest.thicknessMm, 3)} mm between ${thinnest.between.join(' and ')}`
  const trouble = interferenceByState(report, mesh.states).filter(({ clear }) => !clear)
  const room =
    trouble.length === 0
      ? '; in every state no two parts share room'
      : `; ${trouble.map(({ state, words }) => `${state}: ${words}`).join('; ')}`
  return `${mass}${wall}${room}.`
}
