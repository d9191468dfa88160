import type { DesignPlan, Finding, WorksPlan } from '@haspwright/engine'
import {
  barLayoutDrawing,
  barrelDrawing,
  bodyDrawing,
  detentDrawing,
  discStackDrawing,
  printPalette,
  shackleBentDrawing,
  shackleBlankDrawing,
} from './drawing/index.ts'
import { fileName, type Paper } from './paper.ts'

/** Drawings that leave the page: ink on white, sizes of paper. */
export function planDrawings(plan: WorksPlan): Paper[] {
  return [
    ...plan.barCutting.map((cutting) =>
      drawing(`bars-${fileName(cutting.form)}`, `Bar layout, ${cutting.form}`, barLayoutDrawing(cutting, PRINTED)),
    ),
    ...plan.designs.flatMap((design) => designDrawings(design, plan.findings)),
  ]
}

const PRINTED = { palette: printPalette }

function designDrawings({ design }: DesignPlan, findings: readonly Finding[]): Paper[] {
  const id = fileName(design.id)
  const { coldC } = design.requirements
  const release = findings.find((finding) => finding.id === `${design.id}/close/release-cold`)?.predicted?.value
  const cold = { coldC, ...(release === undefined ? {} : { coldMm: release }) }
  return [
    drawing(`${id}-body`, `Body, ${design.title}`, bodyDrawing(design, PRINTED)),
    drawing(`${id}-shackle-blank`, `Shackle blank, ${design.title}`, shackleBlankDrawing(design, PRINTED)),
    drawing(`${id}-shackle-bent`, `Shackle, ${design.title}`, shackleBentDrawing(design, PRINTED)),
    drawing(`${id}-barrel`, `Barrel, sidebar and balls, ${design.title}`, barrelDrawing(design, PRINTED)),
    drawing(`${id}-disc-stack`, `Disc stack, ${design.title}`, discStackDrawing(design, PRINTED)),
    drawing(
      `${id}-detent-locked`,
      `Ball detent locked, ${design.title}`,
      detentDrawing(design, { state: 'locked', ...PRINTED }),
    ),
    drawing(
      `${id}-detent-released`,
      `Ball detent released, ${design.title}`,
      detentDrawing(design, { state: 'released', ...cold, ...PRINTED }),
    ),
  ]
}

function drawing(name: string, title: string, svg: string): Paper {
  return {
    path: `drawings/${name}.svg`,
    mediaType: 'image/svg+xml',
    bytes: new TextEncoder().encode(svg),
    secret: false,
    title,
  }
}
