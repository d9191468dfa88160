import { type AnyCalculation, calculations } from '@haspwright/engine'

/** The rooms in the order a lock walks through them, and what each answers for. */
const ROOMS: readonly (readonly [id: string, title: string])[] = [
  ['codes', 'Codes'],
  ['mechanism', 'Mechanism'],
  ['body', 'Body'],
  ['shackle', 'Shackle'],
  ['heat', 'Heat treatment'],
  ['finish', 'Finish'],
  ['bench', 'Bench'],
  ['proving', 'Proving'],
  ['shop', 'Shop'],
]

export interface Room {
  readonly id: string
  readonly title: string
  readonly calculations: readonly AnyCalculation[]
}

/** All calculations by room; a room without one is left out, a new one stands at the end under its own name. */
export function calculationsByRoom(): readonly Room[] {
  const byRoom = new Map<string, AnyCalculation[]>()
  for (const calculation of calculations) {
    const room = calculation.id.split('.')[0] ?? calculation.id
    byRoom.set(room, [...(byRoom.get(room) ?? []), calculation])
  }
  const known = ROOMS.map(([id, title]) => ({ id, title, calculations: byRoom.get(id) ?? [] }))
  const others = [...byRoom]
    .filter(([id]) => !ROOMS.some(([room]) => room === id))
    .map(([id, list]) => ({ id, title: id, calculations: list }))
  return [...known, ...others].filter((room) => room.calculations.length > 0)
}

/** What a calculation is called, and whether its input must stay out of addresses. */
export function calculationTitle(id: string): { title: string; secret: boolean } | undefined {
  const found = calculations.find((calculation) => calculation.id === id)
  return found === undefined ? undefined : { title: found.title, secret: found.secret === true }
}
