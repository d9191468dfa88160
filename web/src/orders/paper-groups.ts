import type { PaperListing } from '@haspwright/server/client'

/** Papers of one kind, as the page lists them. */
export interface PaperGroup {
  readonly title: string
  readonly papers: readonly PaperListing[]
}

/** The folders of the papers in the order they are reached for. */
const TITLES: readonly (readonly [folder: string, title: string])[] = [
  ['', 'Whole order'],
  ['travellers', 'Travellers'],
  ['cards', 'Job cards'],
  ['drawings', 'Drawings'],
  ['programs', 'Machine programs'],
  ['pick-lists', 'Lists'],
  ['secret', 'Codes: opened one at a time, with a reason'],
]

/** Papers by kind; a kind that is not known here stands at the end under its own name. */
export function paperGroups(papers: readonly PaperListing[]): readonly PaperGroup[] {
  const folders = new Set([...TITLES.map(([folder]) => folder), ...papers.map(folderOf)])
  return [...folders]
    .map((folder) => ({
      title: TITLES.find(([known]) => known === folder)?.[1] ?? folder,
      papers: papers.filter((paper) => folderOf(paper) === folder),
    }))
    .filter((group) => group.papers.length > 0)
}

/** The job card of a step, where it is listed. */
export function jobCardOf(
  papers: readonly PaperListing[],
  designId: string,
  operation: string,
): PaperListing | undefined {
  return papers.find(({ path }) => path.startsWith(`cards/${designId}-`) && path.endsWith(`-${operation}.pdf`))
}

/** The machine program of a step, or the paper that says why there is none. */
export function programOf(
  papers: readonly PaperListing[],
  designId: string,
  operation: string,
): PaperListing | undefined {
  const name = `programs/${designId}-${operation}`
  return papers.find(({ path }) => path === `${name}.nc` || path === `${name}-refused.txt`)
}

const folderOf = ({ path }: PaperListing) => (path.includes('/') ? path.slice(0, path.indexOf('/')) : '')
