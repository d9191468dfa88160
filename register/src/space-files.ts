import { join } from 'node:path'
import type { Design } from '@haspwright/engine'
import { codeSpaceId, codeSpaceOf } from './code-space.ts'
import { readOwn, writeOwn } from './own-file.ts'
import { RegisterTrouble } from './register-trouble.ts'
import type { Reservation } from './reservation.ts'
import type { FileShelf } from './shelf.ts'
import { emptySpace, numbersOut, SpaceFile, type SpaceState, setOf } from './space-state.ts'

/** The state of each code space as a file. Written before the reservation that it is for. */
export class SpaceFiles {
  readonly #folder: string
  readonly #reservations: FileShelf<Reservation>

  constructor(codes: string, reservations: FileShelf<Reservation>) {
    this.#folder = join(codes, 'spaces')
    this.#reservations = reservations
  }

  /** @throws RegisterTrouble when the file is damaged, or is lost though orders hold numbers */
  async read(design: Design): Promise<SpaceState> {
    const space = codeSpaceId(codeSpaceOf(design))
    const state = await readOwn(this.#file(space), SpaceFile)
    if (state !== undefined) return state
    // A space without a file is a new one, unless somebody reserved in it: then its file was lost.
    const [order] = await this.ordersIn(space)
    if (order !== undefined)
      throw new RegisterTrouble(
        this.#file(space),
        `This file is missing, though order ${order} holds numbers from it. Put it back: without it, codes would be given twice.`,
      )
    return emptySpace(codeSpaceOf(design))
  }

  /** The state of a space whose design may be gone. */
  find(space: string): Promise<SpaceState | undefined> {
    return readOwn(this.#file(space), SpaceFile)
  }

  async write(space: string, state: SpaceState): Promise<void> {
    await writeOwn(this.#file(space), state)
  }

  /** @throws RegisterTrouble when a file does not know of numbers that an order holds */
  async checkAge({ lines }: Reservation, designs: readonly Design[]): Promise<void> {
    for (const design of designs) {
      const space = codeSpaceId(codeSpaceOf(design))
      const held = setOf(...lines.filter((line) => line.space === space).map(({ numbers }) => numbers))
      const out = numbersOut(await this.read(design))
      if (held.ranges.some(({ from, to }) => out.firstFree(from) <= to))
        throw new RegisterTrouble(
          this.#file(space),
          'This file is older than the reservations made by it. Put back its newest copy: with this one, codes would be given twice.',
        )
    }
  }

  /** Orders that hold numbers of a space. */
  async ordersIn(space: string): Promise<string[]> {
    const orders: string[] = []
    for (const order of await this.#reservations.ids())
      for (const version of await this.#reservations.versions(order)) {
        const reservation = await this.#reservations.version(order, version)
        const holds = reservation?.content.lines.some((line) => line.space === space && line.numbers !== '')
        if (holds && !orders.includes(order)) orders.push(order)
      }
    return orders
  }

  #file(space: string): string {
    return join(this.#folder, `${space}.json`)
  }
}
