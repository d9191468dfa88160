export { type AppDependencies, createApp } from './app.ts'
export { type CalculationResult, calculate, findCalculation } from './calculating.ts'
export { DesignSolids, FILE_KINDS, type SolidFile, solidCache } from './design-solids.ts'
export { faultLog, newFault } from './fault.ts'
export {
  calculationSchemas,
  FILE_FORMATS,
  type FileFormat,
  formatOf,
  isFileFormat,
  jsonSchemaOf,
} from './json-schemas.ts'
export { codesFor } from './planning/codes-for.ts'
export { provideMachineCipher } from './planning/machine-cipher.ts'
export { directPlanner, type Planner } from './planning/planner.ts'
export { ThreadedPlanner } from './planning/threaded-planner.ts'
export { type ServeOptions, type Serving, serve } from './serve.ts'
export { reportWithRack } from './solid-report.ts'
export { listSources, verificationSummary } from './source-list.ts'
