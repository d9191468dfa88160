import { describe } from 'vitest'
import { temporaryFolder } from './data-folder.testing.ts'
import { openFileRegister } from './file-register.ts'
import { registerContract } from './register-contract.testing.ts'

describe('the register in files', () => {
  registerContract(() => {
    const data = temporaryFolder()
    return async (environment = {}) => openFileRegister(data, { environment })
  })
})
