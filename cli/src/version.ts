import { createRequire } from 'node:module'

const about = createRequire(import.meta.url)('../package.json') as { version: string }

export const version = about.version
