import type { Issue } from '@haspwright/engine'

/** Puts the file's name before the path of each issue: `orders/26-041.json: lines[0].quantity`. */
export function inFile(file: string, issues: readonly Issue[]): Issue[] {
  return issues.map((issue) => ({ ...issue, path: issue.path === '' ? file : `${file}: ${issue.path}` }))
}
