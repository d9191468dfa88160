export { makePapers, type PaperOptions, PapersCancelled } from './make-papers.ts'
export type { Paper } from './paper.ts'
export { checkProgram, type ProgramReport } from './programs/check-program.ts'
export { writePapers } from './write-papers.ts'
