/** What whoever runs the program must know when a works key was just made. */
export function newKeyNotice(file: string): string {
  return `A new works key was made: ${file}. Put a copy in a safe place: without it no lock can be re-keyed.\n`
}
