export { makeSolids, SOLID_KINDS, type SolidKind } from './make-solids.ts'
export type { SolidReport } from './report.ts'
