import { beforeAll, describe, expect, it } from 'vitest'
import { openKernel } from '../solid/kernel.ts'
import { meshOfLock } from '../solid/mesh-of-lock.ts'
import { demoDesign, partsOf } from '../solid/model.testing.ts'
import { partList } from '../solid/part-list.ts'
import { cornerRow, packMesh, unpackMesh } from './index.ts'

beforeAll(openKernel)
const design = demoDesign('ry40')

describe('the mesh of the 3D view', () => {
  it('is read back as it was packed', () => {
    const mesh = meshOfLock(design, partList(design), partsOf(design))
    const back = unpackMesh(packMesh(mesh).buffer)
    expect(back).toEqual(mesh)
    expect(back.parts.map(({ triangles }) => triangles.constructor)).toEqual(back.parts.map(() => Uint16Array))
    expect(back.placed.map(({ placements }) => placements.length)).toEqual(back.placed.map(() => back.states.length))
    for (const { positions, normals, triangles, edges } of back.parts) {
      expect(normals.length).toBe(positions.length)
      expect(Math.max(...triangles)).toBeLessThan(positions.length / 3)
      expect(edges.length % 6).toBe(0)
      for (let i = 0; i < normals.length; i += 3)
        // Rounded to a 127th, a unit vector is off by at most half a step in each of its three parts.
        expect(Math.abs(Math.hypot(normals[i] ?? 0, normals[i + 1] ?? 0, normals[i + 2] ?? 0) - 127)).toBeLessThan(0.9)
    }
  })

  it('of a part with more corners than 16 bits count is read back with all of them', () => {
    const corners = 65_537
    const part = {
      key: 'large',
      title: 'Large',
      positions: Float32Array.from({ length: corners * 3 }, (_, i) => i),
      normals: new Int8Array(corners * 3),
      triangles: cornerRow([0, 1, corners - 1], corners),
      edges: new Float32Array(),
    }
    const mesh = { design: { id: 'X', revision: 'A', title: 'X' }, states: [], parts: [part], placed: [], notice: '' }
    const back = unpackMesh(packMesh(mesh).buffer)
    expect(back).toEqual(mesh)
    expect([...(back.parts[0]?.triangles ?? [])]).toEqual([0, 1, 65_536])
  })

  it('is refused where the bytes are something else', () => {
    expect(() => unpackMesh(new TextEncoder().encode('ISO-10303-21;').buffer)).toThrow('no mesh')
    expect(() => unpackMesh(new ArrayBuffer(2))).toThrow('no mesh')
  })
})
