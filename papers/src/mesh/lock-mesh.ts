/**
 * The lock as triangles, for a page to show: parts once, and where each stands in every state.
 *
 * As bytes, everything little-endian: `HWMS`, the length of the head as 32-bit integer, the head as JSON filled up with blanks to a
 * multiple of four, then the numbers. The head says of each part where its numbers stand, counted in fours of bytes from their
 * beginning, and how many there are: positions and normals as 32-bit floats, three a corner; triangles as 32-bit integers, three
 * corners each; edges as 32-bit floats, two points of three numbers for each piece of an edge.
 */
export interface LockMesh {
  readonly design: { readonly id: string; readonly revision: string; readonly title: string }
  /** From shut to open, in the order things move. */
  readonly states: readonly string[]
  readonly parts: readonly MeshPart[]
  readonly placed: readonly PlacedMesh[]
  /** What no size of the design stands behind. */
  readonly notice: string
}

/** Millimetres: x from the heel to the toe leg, y from the front to the back, z up. */
export interface MeshPart {
  readonly key: string
  readonly title: string
  readonly material?: string
  readonly positions: Float32Array
  readonly normals: Float32Array
  readonly triangles: Uint32Array
  readonly edges: Float32Array
}

/** A part in the lock: moved, then turned about the z axis, counter-clockwise as seen from above. */
export interface PlacedMesh {
  /** `Ball, toe side`. */
  readonly name: string
  readonly part: string
  /** One for each state. */
  readonly placements: readonly {
    readonly shiftMm: readonly [number, number, number]
    readonly turnDeg: number
  }[]
}

const MAGIC = 'HWMS'
const HEAD_AT = 8
const ARRAYS = ['positions', 'normals', 'triangles', 'edges'] as const
type ArrayName = (typeof ARRAYS)[number]
type Range = readonly [at: number, count: number]
type Head = Omit<LockMesh, 'parts'> & {
  readonly parts: readonly (Omit<MeshPart, ArrayName> & Readonly<Record<ArrayName, Range>>)[]
}

export function packMesh({ parts, ...rest }: LockMesh): Uint8Array<ArrayBuffer> {
  let at = 0
  const take = (numbers: { length: number }): Range => {
    const range = [at, numbers.length] as const
    at += numbers.length
    return range
  }
  const head: Head = {
    ...rest,
    parts: parts.map((part) => ({
      ...part,
      positions: take(part.positions),
      normals: take(part.normals),
      triangles: take(part.triangles),
      edges: take(part.edges),
    })),
  }
  const text = new TextEncoder().encode(JSON.stringify(head))
  const headLength = Math.ceil(text.length / 4) * 4
  const bytes = new Uint8Array(HEAD_AT + headLength + at * 4).fill(0x20, HEAD_AT, HEAD_AT + headLength)
  const view = new DataView(bytes.buffer)
  bytes.set(new TextEncoder().encode(MAGIC))
  view.setUint32(4, headLength, true)
  bytes.set(text, HEAD_AT)
  let to = HEAD_AT + headLength
  for (const part of parts)
    for (const name of ARRAYS)
      for (const value of part[name]) {
        if (name === 'triangles') view.setUint32(to, value, true)
        else view.setFloat32(to, value, true)
        to += 4
      }
  return bytes
}

/** @throws where the bytes are no mesh */
export function unpackMesh(bytes: ArrayBuffer): LockMesh {
  const view = new DataView(bytes)
  const magic = new TextDecoder().decode(new Uint8Array(bytes, 0, MAGIC.length))
  if (magic !== MAGIC) throw new Error('these bytes are no mesh of a lock')
  const headLength = view.getUint32(4, true)
  const { parts, ...rest } = JSON.parse(new TextDecoder().decode(new Uint8Array(bytes, HEAD_AT, headLength))) as Head // packMesh wrote it
  const start = HEAD_AT + headLength
  const floats = ([at, count]: Range) =>
    Float32Array.from({ length: count }, (_, i) => view.getFloat32(start + (at + i) * 4, true))
  const integers = ([at, count]: Range) =>
    Uint32Array.from({ length: count }, (_, i) => view.getUint32(start + (at + i) * 4, true))
  return {
    ...rest,
    parts: parts.map((part) => ({
      ...part,
      positions: floats(part.positions),
      normals: floats(part.normals),
      triangles: integers(part.triangles),
      edges: floats(part.edges),
    })),
  }
}
