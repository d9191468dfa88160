#!/usr/bin/env node
import { existsSync } from 'node:fs'

const built = new URL('../dist/run.js', import.meta.url)
if (existsSync(built)) await import(built.href)
else {
  process.stderr.write('haspwright is not built yet. Run: npm run build\n')
  process.exitCode = 1
}
