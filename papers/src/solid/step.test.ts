import { importSTEP, measureVolume, type Shape3D } from 'replicad'
import { beforeAll, describe, expect, it } from 'vitest'
import { colourOf } from './colours.ts'
import { openKernel } from './kernel.ts'
import { assembledLock, type PlacedPart, putInPlace } from './lock.ts'
import { makeSolids } from './make-solids.ts'
import { demoDesign, partsOf } from './model.testing.ts'
import { partList } from './part-list.ts'
import { stepFile } from './step.ts'

beforeAll(openKernel)
const design = demoDesign('ry40')
const solid = (key: string) => {
  const found = partsOf(design).get(key)
  if (found === undefined) throw new Error(`no solid ${key}`)
  return found
}
const single = (key: string) => ({ products: [{ name: key, solid: solid(key), colour: '#9aa3a8' }] })
const readBack = async (bytes: Uint8Array) => (await importSTEP(new Blob([new Uint8Array(bytes)]))).asShape3D()
const textOf = (bytes: Uint8Array) => new TextDecoder().decode(bytes)

describe('a STEP file', () => {
  it('names the schema AP242 in its head, and says who wrote it', () => {
    const text = textOf(stepFile(single('ball'), { title: "O'Tarn ⌀8" }))
    expect(text).toMatch(/^ISO-10303-21;\s*HEADER;/)
    expect(text).toMatch(/FILE_SCHEMA\(\(\s*'AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF/)
    expect(text).toContain("FILE_NAME('O''Tarn \\X2\\2300\\X0\\8'")
    expect(text).toContain("'Haspwright'")
    expect(text).toMatch(/SI_UNIT\(\.MILLI\.,\.METRE\.\)/)
  })

  it.each(['body-finished', 'shackle-notched', 'barrel', 'disc-3', 'ball'])(
    'of %s comes back from its file with the same volume',
    async (key) => {
      const back = await readBack(stepFile(single(key), { title: key }))
      // Seventeen digits are written, but curves are made anew from their surfaces.
      expect(measureVolume(back) / measureVolume(solid(key))).toBeCloseTo(1, 6)
    },
  )

  it('refuses an assembly of a product that it does not hold', () => {
    const occurrences = [{ name: 'Ball 1', product: 'pin', placement: { shiftMm: [0, 0, 0] as const, turnDeg: 0 } }]
    expect(() => stepFile({ ...single('ball'), assembly: { name: 'lock', occurrences } }, { title: '' })).toThrow('pin')
  })
})

describe('the STEP files of a lock', () => {
  const placed = assembledLock(design)
  let files: ReadonlyMap<string, Uint8Array>
  beforeAll(async () => {
    const papers = await makeSolids(design, ['step'])
    files = new Map(papers.map(({ path, bytes }) => [path, bytes]))
  }, 120_000)
  const lockFile = (state: 'locked' | 'open') => {
    const bytes = files.get(`step/RY40-lock-${state}.step`)
    if (bytes === undefined) throw new Error(`no lock ${state}`)
    return bytes
  }

  it('hold each part once as a product, and every piece as a use of it in the lock', () => {
    const { products, occurrences } = structureOf(textOf(lockFile('locked')))
    const used = [...new Set(placed.map(({ part }) => `RY40-${part}`))]
    expect(products.toSorted()).toEqual([...used, 'RY40-lock-locked'].toSorted())
    expect(occurrences).toHaveLength(placed.length)
    expect(occurrences.map(({ name, of, within }) => `${name}: ${of} in ${within}`).toSorted()).toEqual(
      placed.map(({ name, part }) => `${name}: RY40-${part} in RY40-lock-locked`).toSorted(),
    )
  })

  it('give each part the colour that was asked for, to eight bits', () => {
    const colours = [...textOf(lockFile('open')).matchAll(/COLOUR_RGB\('',([\d.E-]+),([\d.E-]+),([\d.E-]+)\)/g)].map(
      ([, ...light]) =>
        `#${light
          .map((each) =>
            Math.round(Number(each) * 255)
              .toString(16)
              .padStart(2, '0'),
          )
          .join('')}`,
    )
    const used = partList(design).filter(({ key }) => placed.some(({ part }) => part === key))
    expect(colours.toSorted()).toEqual(used.map(colourOf).toSorted())
  })

  it.each(['locked', 'open'] as const)('put every piece where it stands %s', async (state) => {
    const back = await readBack(lockFile(state))
    const own = placed.map((part) => inPlace(part, state))
    const sum = (solids: readonly Shape3D[]) => solids.reduce((total, each) => total + measureVolume(each), 0)
    expect(measureVolume(back) / sum(own)).toBeCloseTo(1, 6)
    const middles = (solids: readonly Shape3D[]) =>
      solids
        .map(({ boundingBox }) =>
          boundingBox.center.map((value) => (Math.round(value * 1e3) / 1e3 || 0).toFixed(2)).join(' '),
        )
        .toSorted()
    expect(middles(back.solids)).toEqual(middles(own))
    for (const each of own) each.delete()
  })

  it('are equal to the byte for equal designs', async () => {
    const again = await makeSolids(design, ['step'])
    for (const { path, bytes } of again) {
      const [now, before] = [bytes, files.get(path) ?? bytes].map((each) => textOf(each).split('\n'))
      const line = now?.findIndex((text, i) => text !== before?.[i]) ?? -1
      expect(line, `${path}: ${now?.[line]} and ${before?.[line]}`).toBe(-1)
    }
  }, 120_000)
})

const inPlace = ({ part, placements }: PlacedPart, state: 'locked' | 'open') =>
  putInPlace(solid(part).clone(), placements[state])

/** Products and their uses, as the entities of part 21 say: a use joins two product definitions, each of a formation of a product. */
function structureOf(text: string) {
  const entities = new Map(
    [...text.replace(/\r?\n/g, '').matchAll(/#(\d+)\s*=\s*([A-Z0-9_]+)\((.*?)\);/g)].map(([, id, kind, given]) => [
      `#${id}`,
      { kind, given: given ?? '' },
    ]),
  )
  const of = (kind: string) => [...entities.values()].filter((entity) => entity.kind === kind)
  const names = (given: string) => [...given.matchAll(/'((?:[^']|'')*)'/g)].map(([, name = '']) => name)
  const references = (given: string) => given.match(/#\d+/g) ?? []
  const productOf = (definition: string | undefined): string => {
    const [formation] = references(entities.get(definition ?? '')?.given ?? '')
    const [product] = references(entities.get(formation ?? '')?.given ?? '')
    return names(entities.get(product ?? '')?.given ?? '')[0] ?? ''
  }
  return {
    products: of('PRODUCT').map(({ given }) => names(given)[0] ?? ''),
    occurrences: of('NEXT_ASSEMBLY_USAGE_OCCURRENCE').map(({ given }) => {
      const [within, part] = references(given)
      return { name: names(given)[1] ?? '', of: productOf(part), within: productOf(within) }
    }),
  }
}
