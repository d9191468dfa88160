export { cornerRow, type LockMesh, type MeshPart, type PlacedMesh, packMesh, unpackMesh } from './lock-mesh.ts'
