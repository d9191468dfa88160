/** What the address of the reference says beside the route: the words it is filtered by. */
export function readReferenceSearch(search: Record<string, unknown>): { readonly find?: string } {
  const find = search['find']
  return typeof find === 'string' && find !== '' ? { find: find.slice(0, 80) } : {}
}
