/**
 * How long the page of a solid takes from its address to the first picture with the lock in it, the geometry kept by the server: medians
 * of five visits, each with an empty browser and again with the browser's own cache filled. Needs a build.
 */
import { chromium } from '@playwright/test'
import { launchOptions } from '../scripts/find-browser.mjs'
import { letPeopleIn } from '../scripts/let-people-in.mjs'
import { runServer } from '../scripts/run-server.mjs'

const VISITS = 5
/** Part of the picture that must be drawn on before it counts. */
const INKED = 0.05

const server = await runServer()
const browser = await chromium.launch(launchOptions())
try {
  const { everyRole } = await letPeopleIn(server.address, server.setUpLink)
  for (const path of ['mesh', 'report']) await everyRole.fetch(`/api/designs/HB50/solids/${path}`)
  const [first, again] = [[], []]
  for (let i = 0; i < VISITS; i++) {
    const context = await browser.newContext({
      viewport: { width: 1280, height: 800 },
      baseURL: server.address,
      storageState: everyRole.storageState(),
    })
    await context.addInitScript(watchFirstPicture, INKED)
    const page = await context.newPage()
    for (const visits of [first, again]) {
      await page.goto('/designs/HB50/solid')
      visits.push(
        await (await page.waitForFunction(() => globalThis.firstPicture, null, { timeout: 60_000 })).jsonValue(),
      )
      await page.goto('about:blank')
    }
    await context.close()
  }
  for (const [title, visits] of [
    ['browser empty', first],
    ['browser warm', again],
  ])
    console.log(
      `${title}: first picture ${median(visits, 'atMs')} ms after the address, ${median(visits, 'drawMs')} ms of it drawing, ` +
        `${median(visits, 'draws')} draw calls; mesh at ${median(visits, 'meshMs')} ms`,
    )
} finally {
  await browser.close()
  await server.stop()
}

function median(visits, what) {
  const sorted = visits.map((visit) => visit[what]).sort((a, b) => a - b)
  return Math.round(sorted[Math.floor(sorted.length / 2)])
}

/** In the page: reads the picture back after each frame until the lock is in it; reading waits until it is truly drawn. */
function watchFirstPicture(inked) {
  let began
  let draws = 0
  for (const name of ['drawElements', 'drawArraysInstanced', 'drawArrays', 'drawElementsInstanced']) {
    const draw = WebGL2RenderingContext.prototype[name]
    WebGL2RenderingContext.prototype[name] = function (...given) {
      if (globalThis.firstPicture === undefined && began === undefined) {
        began = performance.now()
        draws = 0
        queueMicrotask(() => look(this))
      }
      draws++
      return draw.apply(this, given)
    }
  }
  function look(gl) {
    const { drawingBufferWidth: width, drawingBufferHeight: height } = gl
    const points = new Uint8Array(width * height * 4)
    gl.readPixels(0, 0, width, height, gl.RGBA, gl.UNSIGNED_BYTE, points)
    const drawn = points.filter((value, i) => i % 4 === 3 && value > 0).length
    const atMs = performance.now()
    if (width > 400 && drawn > inked * width * height) {
      const mesh = performance.getEntriesByType('resource').find(({ name }) => name.includes('/mesh'))
      globalThis.firstPicture = { atMs, drawMs: atMs - began, draws, meshMs: mesh?.responseEnd ?? 0 }
    }
    began = undefined
  }
}
