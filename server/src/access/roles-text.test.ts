import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { rolesMarkdown } from './roles-text.ts'

it('docs/roles.md says who may do what as the server decides it (npm run docs:roles makes it anew)', () => {
  expect(readFileSync(new URL('../../../docs/roles.md', import.meta.url), 'utf8')).toBe(rolesMarkdown())
})
