/** One sheet, drawing or list of a plan, ready to print or to write. */
export interface Paper {
  /** Where it goes under the folder of the order, with forward slashes: `travellers/26-041-A1.pdf`. */
  readonly path: string
  readonly mediaType:
    | 'application/pdf'
    | 'image/svg+xml'
    | 'text/csv; charset=utf-8'
    | 'text/plain; charset=us-ascii'
    | 'application/json'
    | 'application/octet-stream'
    | 'image/vnd.dxf'
    | 'model/3mf'
    | 'model/step'
  readonly bytes: Uint8Array
  /** Holds cuts or stacks: whoever reads it can cut the key. */
  readonly secret: boolean
  readonly title: string
}

/** A piece of a file name made from any text: letters, digits, dots, dashes; never a way out of its folder. */
export function fileName(text: string): string {
  const plain = text
    .normalize('NFKD')
    .replaceAll('×', 'x')
    .replace(/[^A-Za-z0-9._-]+/g, '-')
    .replace(/^[-.]+|[-.]+$/g, '')
    .slice(0, 80)
  return plain === '' ? 'unnamed' : plain
}

/** Gives every path its own: the second of the same name gets `-2`. */
export function distinctPaths(papers: readonly Paper[]): Paper[] {
  const taken = new Set<string>()
  return papers.map((paper) => {
    const dot = paper.path.lastIndexOf('.')
    let path = paper.path
    // Lower case: some file systems take `A1` and `a1` for one name.
    for (let n = 2; taken.has(path.toLowerCase()); n++)
      path = `${paper.path.slice(0, dot)}-${n}${paper.path.slice(dot)}`
    taken.add(path.toLowerCase())
    return path === paper.path ? paper : { ...paper, path }
  })
}
