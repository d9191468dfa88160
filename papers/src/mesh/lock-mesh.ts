/**
 * The lock as triangles, for a page to show: parts once, and where each stands in every state.
 *
 * As bytes, everything little-endian as on every machine that runs it: `HWM2`, the length of the head as 32-bit integer, the head as
 * JSON filled up with blanks to a multiple of four, then the numbers, each row of them beginning at a multiple of four. The head says of
 * each part where its rows begin, in bytes from the end of the head, and how many numbers each has: positions as 32-bit floats, three a
 * corner; normals as signed bytes of 127 to one, three a corner; triangles as 16-bit integers, three corners each, or 32-bit where a part
 * has more than 65 536 corners; edges as 32-bit floats, two points of three numbers for each piece of an edge. A page takes the rows as
 * they lie, without a copy.
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
  readonly positions: Float32Array<ArrayBuffer>
  readonly normals: Int8Array<ArrayBuffer>
  readonly triangles: Uint16Array<ArrayBuffer> | Uint32Array<ArrayBuffer>
  readonly edges: Float32Array<ArrayBuffer>
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

const MAGIC = 'HWM2'
const HEAD_AT = 8
const ROWS = ['positions', 'normals', 'triangles', 'edges'] as const
type RowName = (typeof ROWS)[number]
type Row = MeshPart[RowName]
type Place = readonly [atByte: number, count: number]
type Head = Omit<LockMesh, 'parts'> & {
  readonly parts: readonly (Omit<MeshPart, RowName> & Readonly<Record<RowName, Place>>)[]
}

/** Corners that 16 bits can count. */
const SHORT_CORNERS = 65_536

/** A row of corners of triangles, as narrow as it may be. */
export function cornerRow(corners: ArrayLike<number>, cornerCount: number): MeshPart['triangles'] {
  return cornerCount > SHORT_CORNERS ? Uint32Array.from(corners) : Uint16Array.from(corners)
}

export function packMesh({ parts, ...rest }: LockMesh): Uint8Array<ArrayBuffer> {
  const rows: { readonly atByte: number; readonly row: Row }[] = []
  let length = 0
  const take = (row: Row): Place => {
    rows.push({ atByte: length, row })
    length += upToFour(row.byteLength)
    return [rows.at(-1)?.atByte ?? 0, row.length]
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
  const start = HEAD_AT + upToFour(text.length)
  const bytes = new Uint8Array(start + length).fill(0x20, HEAD_AT, start)
  bytes.set(new TextEncoder().encode(MAGIC))
  new DataView(bytes.buffer).setUint32(4, start - HEAD_AT, true)
  bytes.set(text, HEAD_AT)
  for (const { atByte, row } of rows)
    bytes.set(new Uint8Array(row.buffer, row.byteOffset, row.byteLength), start + atByte)
  return bytes
}

/**
 * The rows of the mesh are views of the bytes given.
 *
 * @throws where the bytes are no mesh
 */
export function unpackMesh(bytes: ArrayBuffer): LockMesh {
  const magic = new TextDecoder().decode(new Uint8Array(bytes, 0, Math.min(MAGIC.length, bytes.byteLength)))
  if (magic !== MAGIC) throw new Error('these bytes are no mesh of a lock')
  const headLength = new DataView(bytes).getUint32(4, true)
  const { parts, ...rest } = JSON.parse(new TextDecoder().decode(new Uint8Array(bytes, HEAD_AT, headLength))) as Head // packMesh wrote it
  const start = HEAD_AT + headLength
  const floats = ([at, count]: Place) => new Float32Array(bytes, start + at, count)
  return {
    ...rest,
    parts: parts.map((part) => {
      const [at, count] = part.triangles
      const Corners = part.positions[1] / 3 > SHORT_CORNERS ? Uint32Array : Uint16Array
      return {
        ...part,
        positions: floats(part.positions),
        normals: new Int8Array(bytes, start + part.normals[0], part.normals[1]),
        triangles: new Corners(bytes, start + at, count),
        edges: floats(part.edges),
      }
    }),
  }
}

const upToFour = (length: number) => Math.ceil(length / 4) * 4
