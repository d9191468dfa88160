import { setOC } from 'replicad'
import openCascade from 'replicad-opencascadejs'

let opened: Promise<void> | undefined

/**
 * Loads the geometry kernel, 23 MB of WebAssembly, once; every other function of this folder needs it open. What the kernel would
 * print on standard output is dropped: results alone go there.
 */
export function openKernel(): Promise<void> {
  opened ??= openCascade({ print: () => {}, printErr: () => {} }).then((kernel) => setOC(kernel))
  return opened
}
