export { PapersCancelled } from './cancelled.ts'
export { makePapers, type PaperOptions } from './make-papers.ts'
export type { Paper } from './paper.ts'
export { writePapers } from './write-papers.ts'
