export { barLayoutDrawing } from './drawings/bar-layout-drawing.ts'
export { barrelDrawing } from './drawings/barrel-drawing.ts'
export { type BarrelSectionOptions, barrelSectionDrawing } from './drawings/barrel-section-drawing.ts'
export { bodyDrawing } from './drawings/body-drawing.ts'
export {
  type CarrierLeg,
  type CarrierPathOptions,
  carrierPathDrawing,
  clock,
  PATH_EDGE,
  type SoakBar,
} from './drawings/carrier-path-drawing.ts'
export { type DetentOptions, detentDrawing } from './drawings/detent-drawing.ts'
export { discStackDrawing } from './drawings/disc-stack-drawing.ts'
export type { DrawingOptions } from './drawings/frame.ts'
export {
  type CarrierState,
  PLATING_LINE_HEIGHT,
  platingLineDrawing,
} from './drawings/plating-line-drawing.ts'
export { shackleBentDrawing, shackleBlankDrawing } from './drawings/shackle-drawing.ts'
export { type Palette, printPalette, webPalette } from './kit/palette.ts'
export { partDrawing } from './part-drawing.ts'
export type { LineTank, TankKind } from './parts/line-layout.ts'
export {
  isWithin,
  type LineInput,
  type LinePicture,
  type LineReport,
  type LoadedMove,
  linePicture,
  SAME_MOMENT_S,
} from './parts/line-picture.ts'
export { cycleWords, stationName } from './parts/line-words.ts'
