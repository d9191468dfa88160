import type { Design } from '@haspwright/engine'
import type { Shape3D } from 'replicad'
import { freeSizes } from './free-sizes.ts'
import { ball } from './parts/ball.ts'
import { barrel } from './parts/barrel.ts'
import { bentShackle } from './parts/bent-shackle.ts'
import { cover } from './parts/cover.ts'
import { cutBlock } from './parts/cut-block.ts'
import { disc } from './parts/disc.ts'
import { drilledBody } from './parts/drilled-body.ts'
import { groovedBody } from './parts/grooved-body.ts'
import { notchedShackle } from './parts/notched-shackle.ts'
import { shackleBlank } from './parts/shackle-blank.ts'
import { sidebar } from './parts/sidebar.ts'
import { spacer } from './parts/spacer.ts'

/** A part, or a part at a stage of its making, of which a design gives a solid. */
export interface PartDefinition {
  /** `shackle-notched`: name of its files and of its product in STEP. */
  readonly key: string
  readonly title: string
  /** As the design names it; absent where a design holds none. */
  readonly material?: string
  /** The steps of one part, each made from the one before. */
  readonly series?: 'body' | 'shackle'
  build(): Shape3D
}

/** Every part of a design in the order it is made. Discs come by value: no lock's stack is in it. */
export function partList(design: Design): readonly PartDefinition[] {
  const { mechanism } = design
  return [
    ...bodySteps(design),
    ...shackleSteps(design),
    { key: 'barrel', title: 'Barrel', material: design.barrel.material, build: () => barrel(design) },
    ...Array.from({ length: mechanism.values }, (_, value) => ({
      key: `disc-${value}`,
      title: `Disc of value ${value}`,
      build: () => disc(design, value),
    })),
    ...(mechanism.spacerThicknessMm > 0 ? [{ key: 'spacer', title: 'Spacer', build: () => spacer(design) }] : []),
    { key: 'sidebar', title: 'Sidebar', build: () => sidebar(design) },
    { key: 'ball', title: 'Ball', material: design.ball.material, build: () => ball(design) },
    ...(freeSizes(design).coverLengthMm > 0 ? [{ key: 'cover', title: 'Cover', build: () => cover(design) }] : []),
  ]
}

function bodySteps(design: Design): PartDefinition[] {
  const step = (key: string, title: string, build: () => Shape3D): PartDefinition => ({
    key: `body-${key}`,
    title,
    material: design.body.material,
    series: 'body',
    build,
  })
  return [
    step('sawn', 'Body block, sawn', () => cutBlock(design, 'sawn')),
    step('faced', 'Body block, faced', () => cutBlock(design, 'faced')),
    step('drilled', 'Body, drilled, before plating', () => drilledBody(design, 'before plating')),
    step('finished', 'Body, finished sizes', () => drilledBody(design, 'finished')),
    step('assembled', 'Body with the groove of the sidebar', () => groovedBody(design)),
  ]
}

function shackleSteps(design: Design): PartDefinition[] {
  const step = (key: string, title: string, build: () => Shape3D): PartDefinition => ({
    key: `shackle-${key}`,
    title,
    material: design.shackle.steel,
    series: 'shackle',
    build,
  })
  return [
    step('sawn', 'Shackle blank, sawn', () => shackleBlank(design, 'sawn')),
    step('blank', 'Shackle blank, faced', () => shackleBlank(design, 'faced')),
    step('bent', 'Shackle, bent', () => bentShackle(design, 'before plating')),
    step('notched', 'Shackle, notched, before plating', () => notchedShackle(design, 'before plating')),
    step('finished', 'Shackle, finished sizes', () => notchedShackle(design, 'finished')),
  ]
}
