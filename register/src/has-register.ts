import { hasEarlierFiles } from './earlier-files/files-taken-over.ts'
import { clusterPlaces, isCluster } from './postgres/cluster-folder.ts'
import { DATABASE_VARIABLE, databaseFolder } from './postgres/database-place.ts'

/** Is there a register to open, in the database named or in the data folder? Looks, and makes nothing. */
export async function hasRegister(data: string, environment: NodeJS.ProcessEnv): Promise<boolean> {
  return (
    Boolean(environment[DATABASE_VARIABLE]) ||
    (await isCluster(clusterPlaces(databaseFolder(data)))) ||
    hasEarlierFiles(data)
  )
}
