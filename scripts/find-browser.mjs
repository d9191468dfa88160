import { spawnSync } from 'node:child_process'
import { accessSync, constants } from 'node:fs'
import { delimiter, join } from 'node:path'

/** Chromium without a window: a page opens in a tenth of the processor's time, as no window's own pages come with it. */
const WITHOUT_WINDOW = 'chromium-headless-shell'
const NAMES = [WITHOUT_WINDOW, 'chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome']
const USUAL_PLACES = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
]
const REMEDY =
  'No browser was found for the browser tests. Install Chromium (Debian: apt-get install -y chromium-headless-shell) or set CHROMIUM_PATH to one.'

/** The browser for tests and screenshots: CHROMIUM_PATH, else the first Chromium or Chrome found; `undefined` where there is none. */
export function findBrowser() {
  const named = process.env.CHROMIUM_PATH
  if (named) return isProgram(named) ? named : undefined
  const folders = (process.env.PATH ?? '').split(delimiter)
  const places = NAMES.flatMap((name) => folders.map((folder) => join(folder, name)))
  return [...places, ...USUAL_PLACES].find(isProgram)
}

/**
 * Finds a browser, or installs one where apt is at hand and we may; one with windows serves where there is no other.
 * @returns its path, or what to do about it
 */
export function ensureBrowser() {
  const { CHROMIUM_PATH: named } = process.env
  const found = findBrowser()
  if (named) return found ? { path: found } : { remedy: `CHROMIUM_PATH names no program: ${named}` }
  if (!found?.endsWith(WITHOUT_WINDOW) && mayInstall()) install(found)
  const path = findBrowser()
  return path ? { path } : { remedy: REMEDY }
}

function install(found) {
  process.stdout.write(`Installing ${WITHOUT_WINDOW} with apt-get.\n`)
  if (!apt('update')) return
  if (!apt('install', '-y', WITHOUT_WINDOW) && !found) apt('install', '-y', 'chromium')
}

/** How a browser is started for tests and screenshots; a root user's has no sandbox to run in. */
export function launchOptions() {
  const executablePath = findBrowser()
  return {
    ...(executablePath ? { executablePath } : {}),
    args: [
      ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
      '--disable-background-networking',
      '--disable-component-update',
    ],
  }
}

function mayInstall() {
  return process.getuid?.() === 0 && spawnSync('apt-get', ['--version'], { stdio: 'ignore' }).status === 0
}

function apt(...words) {
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
  return spawnSync('apt-get', words, { stdio: 'inherit', env }).status === 0
}

function isProgram(path) {
  try {
    accessSync(path, constants.X_OK)
    return true
  } catch {
    return false
  }
}
