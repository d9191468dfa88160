import type { Issue } from '@haspwright/engine'
import type { Option } from './arguments.ts'

export const dataOption: Option = {
  name: 'data',
  value: 'DIR',
  help: 'Data folder; else HASPWRIGHT_DATA, else ./haspwright-data',
}

/** Nothing was ever stored where something is to be read. */
export const nothingKept = (data: string, toDo: string): Issue => ({
  path: '--data',
  code: 'not-found',
  message: `Nothing is kept here yet, so there is nothing to ${toDo}. Nothing was changed.`,
  value: data,
  allowed: 'a data folder that was used, or DATABASE_URL',
})
