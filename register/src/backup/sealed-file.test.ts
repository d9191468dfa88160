import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { opened, sealed } from './sealed-file.ts'

const PASSPHRASE = 'nine brass hasps in a row'

async function* streamOf(...pieces: readonly Uint8Array[]) {
  yield* pieces
}
async function whole(pieces: AsyncIterable<Buffer>): Promise<Buffer> {
  const all: Buffer[] = []
  for await (const piece of pieces) all.push(piece)
  return Buffer.concat(all)
}
const seal = (...plain: readonly Uint8Array[]) => whole(sealed(streamOf(...plain), PASSPHRASE))
const open = (bytes: Uint8Array, passphrase = PASSPHRASE) => whole(opened(streamOf(bytes), passphrase, 'a.backup'))

/** Where the pieces of a sealed file begin. */
function piecesOf(file: Buffer): Buffer[] {
  const pieces = [file.subarray(0, 52)]
  for (let at = 52; at < file.length; ) {
    const next = at + 4 + file.readUInt32BE(at) + 16
    pieces.push(file.subarray(at, next))
    at = next
  }
  return pieces
}

describe('a file under a passphrase', () => {
  it.each([0, 1, 1 << 20, (1 << 20) + 1, 3 << 20])('gives back %d bytes however they arrive', async (length) => {
    const plain = Buffer.alloc(length, 'lock')
    const file = await whole(sealed(streamOf(plain.subarray(0, 7), plain.subarray(7)), PASSPHRASE))
    const torn = Array.from({ length: Math.ceil(file.length / 99_991) }, (_, i) =>
      file.subarray(i * 99_991, (i + 1) * 99_991),
    )
    expect((await whole(opened(streamOf(...torn), PASSPHRASE, ''))).equals(plain)).toBe(true)
    expect(file.includes('locklock')).toBe(false)
  })

  it('opens with the same letters typed otherwise, and with no other passphrase', async () => {
    const file = await whole(sealed(streamOf(Buffer.from('x')), 'clé de la serrure'))
    expect((await open(file, 'cle\u0301 de la serrure')).toString()).toBe('x')
    await expect(open(file, 'cle de la serrure')).rejects.toThrow('passphrase')
  })

  it('does not open when any one bit was changed, or an end of any length is missing', async () => {
    const file = await seal(Buffer.from('{"about":"the register"}'))
    await fc.assert(
      fc.asyncProperty(fc.nat(file.length - 1), fc.nat(7), async (at, bit) => {
        const changed = Buffer.from(file)
        changed[at] = (changed[at] ?? 0) ^ (1 << bit)
        await expect(open(changed)).rejects.toThrow('a.backup')
        await expect(open(file.subarray(0, at))).rejects.toThrow('a.backup')
      }),
      { seed: 6, numRuns: 4 },
    )
    await expect(open(Buffer.concat([file, Buffer.of(0)]))).rejects.toThrow('not whole')
  })

  it('notices pieces that are left out, exchanged, cut off at a seam, or put behind', async () => {
    const [head = Buffer.of(), one = Buffer.of(), two = Buffer.of(), three = Buffer.of()] = piecesOf(
      await seal(Buffer.alloc(2.5 * (1 << 20))),
    )
    const others: readonly Buffer[][] = [[one, two], [one, three], [two, one, three], [one, two, three, three], []]
    for (const pieces of others) await expect(open(Buffer.concat([head, ...pieces]))).rejects.toThrow('not whole')
    expect(await open(Buffer.concat([head, one, two, three]))).toHaveLength(2.5 * (1 << 20))
  })
})
