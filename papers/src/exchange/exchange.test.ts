import { unzipSync } from 'fflate'
import { measureVolume } from 'replicad'
import { beforeAll, describe, expect, it } from 'vitest'
import { openKernel } from '../solid/kernel.ts'
import { demoDesign, partsOf } from '../solid/model.testing.ts'
import { partList } from '../solid/part-list.ts'
import { threeMf } from './three-mf.ts'
import { type Triangles, welded } from './triangles.ts'

beforeAll(openKernel)
const design = demoDesign('ry40')
const solid = (key: string) => {
  const found = partsOf(design).get(key)
  if (found === undefined) throw new Error(`no solid ${key}`)
  return found
}
const keys = partList(design).map(({ key }) => key)

describe('3MF', () => {
  const triangles = (key: string) => {
    const mesh = solid(key).mesh({ tolerance: 0.01, angularTolerance: 8 })
    return welded(mesh.vertices, mesh.triangles)
  }

  it.each(keys)('%s is watertight: every edge belongs to two triangles, once each way', (key) => {
    const ways = new Map<string, number>()
    for (const [a, b, c] of triangles(key).triangles)
      for (const [from, to] of [
        [a, b],
        [b, c],
        [c, a],
      ] as const)
        ways.set(`${from} ${to}`, (ways.get(`${from} ${to}`) ?? 0) + 1)
    for (const [way, times] of ways) {
      expect(times, way).toBe(1)
      expect(ways.get(way.split(' ').reverse().join(' ')), way).toBe(1)
    }
  })

  it.each(keys)('%s holds what its solid holds, to the chords of its round faces', (key) => {
    // Chords of 8° stand 0.24 % inside a circle by radius, so 0.5 % by area, and outside a bore as much.
    expect(Math.abs(volumeOf(triangles(key)) / measureVolume(solid(key)) - 1)).toBeLessThan(0.01)
  })

  it('is a package of three parts, in which corners, triangles and copies are read back', () => {
    const ball = triangles('ball')
    const bytes = threeMf(
      [
        {
          ...ball,
          name: 'Ball <8 mm>',
          partNumber: 'RY40-ball',
          copies: [
            { turnDeg: 90, shiftMm: [8, 0, -11.5] },
            { turnDeg: 0, shiftMm: [-8, 0, -11.5] },
          ],
        },
      ],
      { title: 'Balls & more' },
    )
    const files = unzipSync(bytes)
    expect(Object.keys(files)).toEqual(['[Content_Types].xml', '_rels/.rels', '3D/3dmodel.model'])
    const text = (path: string) => new TextDecoder().decode(files[path])
    expect(text('[Content_Types].xml')).toContain('application/vnd.ms-package.3dmanufacturing-3dmodel+xml')
    expect(text('_rels/.rels')).toContain('Target="/3D/3dmodel.model"')
    const model = text('3D/3dmodel.model')
    expect(model).toContain('unit="millimeter"')
    expect(model).toContain('name="Ball &lt;8 mm&gt;"')
    expect(model.match(/<vertex /g)?.length).toBe(ball.corners.length)
    expect(volumeOf(readModel(model))).toBeCloseTo(volumeOf(ball), 3)
    // 90° counter-clockwise takes x to y; the matrix has the axes as rows and the shift last.
    expect(model).toContain('transform="0 1 0 -1 0 0 0 0 1 0 8 -11.5"')
    expect(model).toContain('transform="1 0 0 0 1 0 0 0 1 -8 0 -11.5"')
  })

  it('of equal parts is equal to the byte', () => {
    const write = () => threeMf([{ ...triangles('spacer'), name: 's', partNumber: 's' }], { title: 's' })
    expect(write()).toEqual(write())
  })
})

/** Volume by the divergence theorem: signed tetrahedra to the origin. */
function volumeOf({ corners, triangles }: Triangles): number {
  return triangles.reduce((sum, [i, j, k]) => {
    const [a, b, c] = [corners[i] ?? ORIGIN, corners[j] ?? ORIGIN, corners[k] ?? ORIGIN]
    const cross = [b[1] * c[2] - b[2] * c[1], b[2] * c[0] - b[0] * c[2], b[0] * c[1] - b[1] * c[0]] as const
    return sum + (a[0] * cross[0] + a[1] * cross[1] + a[2] * cross[2]) / 6
  }, 0)
}
const ORIGIN = [0, 0, 0] as const

function readModel(model: string): Triangles {
  const numbers = (pattern: RegExp) =>
    [...model.matchAll(pattern)].map(([, a, b, c]) => [Number(a), Number(b), Number(c)] as const)
  return {
    corners: numbers(/<vertex x="([^"]+)" y="([^"]+)" z="([^"]+)"\/>/g),
    triangles: numbers(/<triangle v1="(\d+)" v2="(\d+)" v3="(\d+)"\/>/g),
  }
}
