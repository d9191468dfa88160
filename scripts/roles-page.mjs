import { writeFileSync } from 'node:fs'
import { rolesMarkdown } from '../server/dist/access/roles-text.js'

/** Remakes docs/roles.md from the table the server decides by. Build first. */
writeFileSync(new URL('../docs/roles.md', import.meta.url), rolesMarkdown())
