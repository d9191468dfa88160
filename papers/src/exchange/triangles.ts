/** A closed skin of triangles: corners as x, y, z in mm; triangles as three corners each, counter-clockwise as seen from outside. */
export interface Triangles {
  readonly corners: readonly (readonly [number, number, number])[]
  readonly triangles: readonly (readonly [number, number, number])[]
}

/** Corners closer than this are one, mm: finer than any layer, coarser than what two faces of a kernel differ by along their edge. */
const WELD_MM = 1e-5

/** Joins the faces of a kernel's mesh, which repeat their corners along common edges, and drops triangles without area. */
export function welded(vertices: readonly number[], indices: readonly number[]): Triangles {
  const known = new Map<string, number>()
  const corners: (readonly [number, number, number])[] = []
  const cornerOf = (index: number): number => {
    const [x = 0, y = 0, z = 0] = vertices.slice(index * 3, index * 3 + 3)
    const key = [x, y, z].map((value) => Math.round(value / WELD_MM)).join(' ')
    const found = known.get(key)
    if (found !== undefined) return found
    corners.push([x, y, z])
    known.set(key, corners.length - 1)
    return corners.length - 1
  }
  const triangles: (readonly [number, number, number])[] = []
  for (let i = 0; i + 2 < indices.length; i += 3) {
    const [a, b, c] = [cornerOf(indices[i] ?? 0), cornerOf(indices[i + 1] ?? 0), cornerOf(indices[i + 2] ?? 0)]
    if (a !== b && b !== c && c !== a) triangles.push([a, b, c])
  }
  return { corners, triangles }
}
