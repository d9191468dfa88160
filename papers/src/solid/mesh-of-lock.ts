import type { Design } from '@haspwright/engine'
import type { Shape3D } from 'replicad'
import { cornerRow, type LockMesh, type MeshPart } from '../mesh/index.ts'
import { FREE_SIZES_NOTICE } from './free-sizes.ts'
import { assembledLock, LOCK_STATES } from './lock.ts'
import type { PartDefinition } from './part-list.ts'

/** How far a triangle may leave the true face, mm, and how far neighbours may turn, degrees: fine enough for a screen. */
const SCREEN = { tolerance: 0.02, angularTolerance: 12 }

/** The assembled lock as triangles and edges. */
export function meshOfLock(
  design: Design,
  parts: readonly PartDefinition[],
  solids: ReadonlyMap<string, Shape3D>,
): LockMesh {
  const placed = assembledLock(design)
  const used = new Set(placed.map(({ part }) => part))
  return {
    design: { id: design.id, revision: design.revision, title: design.title },
    states: LOCK_STATES,
    parts: parts.flatMap(({ key, title, material }) => {
      const solid = solids.get(key)
      if (!used.has(key) || solid === undefined) return []
      return [{ key, title, ...(material === undefined ? {} : { material }), ...meshOf(solid) }]
    }),
    placed: placed.map(({ name, part, placements }) => ({
      name,
      part,
      placements: LOCK_STATES.map((state) => placements[state]),
    })),
    notice: FREE_SIZES_NOTICE,
  }
}

function meshOf(solid: Shape3D): Pick<MeshPart, 'positions' | 'normals' | 'triangles' | 'edges'> {
  const { vertices, normals, triangles } = solid.mesh(SCREEN)
  return {
    positions: Float32Array.from(vertices),
    normals: Int8Array.from(normals, (part) => Math.round(part * 127)),
    triangles: cornerRow(triangles, vertices.length / 3),
    edges: Float32Array.from(solid.meshEdges(SCREEN).lines),
  }
}
