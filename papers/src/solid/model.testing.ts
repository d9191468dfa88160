import { readFileSync } from 'node:fs'
import { Design } from '@haspwright/engine'
import type { Shape3D } from 'replicad'
import { partList } from './part-list.ts'

/** A demo design, read as any design is. */
export function demoDesign(name: 'hb50' | 'ry40'): Design {
  return Design.parse(JSON.parse(readFileSync(new URL(`../../../demo/designs/${name}.json`, import.meta.url), 'utf8')))
}

const built = new Map<string, ReadonlyMap<string, Shape3D>>()

/** All solids of a design, built once for a test file. */
export function partsOf(design: Design): ReadonlyMap<string, Shape3D> {
  const solids = built.get(design.id) ?? new Map(partList(design).map(({ key, build }) => [key, build()]))
  built.set(design.id, solids)
  return solids
}
