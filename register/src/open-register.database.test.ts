import { describe, onTestFinished } from 'vitest'
import { temporaryFolder } from './data-folder.testing.ts'
import { openRegister } from './open-register.ts'
import { onEveryServer, someWorks } from './postgres/test-database.testing.ts'
import { registerContract } from './register-contract.testing.ts'

describe('the register in PostgreSQL', () => {
  onEveryServer(({ shared: { environment } }) => {
    registerContract(() => {
      const [data, worksId] = [temporaryFolder(), someWorks()]
      return async (more = {}) => {
        const register = await openRegister(data, { environment: { ...environment, ...more }, worksId })
        onTestFinished(() => register.close())
        return register
      }
    })
  })
})
