import { createClient } from '@haspwright/server/client'

/** The server that delivered this page. */
export const client = createClient()
