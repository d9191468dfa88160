/** Nobody waits for the papers any more. */
export class PapersCancelled extends Error {
  constructor() {
    super('Making the papers was cancelled.')
    this.name = 'PapersCancelled'
  }
}
