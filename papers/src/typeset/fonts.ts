import { readFile } from 'node:fs/promises'
import { createRequire } from 'node:module'

const require = createRequire(import.meta.url)

/** Barlow for words, its semi-condensed cut for labels, IBM Plex Mono for figures; all from the registry, none from the machine. */
const FILES = [
  '@expo-google-fonts/barlow/400Regular/Barlow_400Regular.ttf',
  '@expo-google-fonts/barlow/500Medium/Barlow_500Medium.ttf',
  '@expo-google-fonts/barlow/600SemiBold/Barlow_600SemiBold.ttf',
  '@expo-google-fonts/barlow-semi-condensed/400Regular/BarlowSemiCondensed_400Regular.ttf',
  '@expo-google-fonts/barlow-semi-condensed/500Medium/BarlowSemiCondensed_500Medium.ttf',
  '@expo-google-fonts/ibm-plex-mono/400Regular/IBMPlexMono_400Regular.ttf',
  '@expo-google-fonts/ibm-plex-mono/600SemiBold/IBMPlexMono_600SemiBold.ttf',
] as const

export function loadFonts(): Promise<Buffer[]> {
  return Promise.all(FILES.map((file) => readFile(require.resolve(file))))
}
