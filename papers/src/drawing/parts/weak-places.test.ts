import type { Design } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import harbour from '../../../../demo/designs/hb50.json' with { type: 'json' }
import { bodyDrawing } from '../drawings/body-drawing.ts'
import { shackleBentDrawing } from '../drawings/shackle-drawing.ts'
import { partDrawing } from '../part-drawing.ts'
import { changed, reckoned } from '../reckoned.testing.ts'
import { weakPlaces } from './weak-places.ts'

const hb50 = harbour as unknown as Design

describe('the weakest link on the drawing', () => {
  const weak = (change: (design: Design) => void) => weakPlaces(changed(change, reckoned))
  const at = (places: ReturnType<typeof weakPlaces>, load: string) => places.find((place) => place.load === load)

  it('a soft body gives way above the ball, between barrel and leg bore, and its drawing says so', () => {
    const soft = (d: Design) => {
      d.body.yieldMPa = 60
    }
    const pull = at(weak(soft), 'pull')
    expect(pull?.link).toBe('body-wall')
    expect(pull?.at[1]).toBe(hb50.body.crossBoreFromTopMm - 4)
    expect(pull?.at[0]).toBeGreaterThan(7)
    expect(pull?.at[0]).toBeLessThan(16.9 - 4.5)
    // 2 legs · 1.5 · (16.9 − (9.25 + 14.05)/2) · 8 · 60 N, by hand.
    expect(pull?.title).toBe('Pull 7.56\u202fkN')
    const svg = bodyDrawing(changed(soft, reckoned))
    expect(svg).toContain('the ball ploughs into the wall of the body')
    expect(svg).toContain('tests decide')
    expect(bodyDrawing(reckoned)).not.toContain('tests decide')
  })

  it('soft balls are sheared at the face of the leg; a notch near the end shears the end off', () => {
    const balls = at(
      weak((d) => {
        d.ball.tensileMPa = 200
      }),
      'pull',
    )
    expect(balls?.link).toBe('ball-shear')
    expect(balls?.at[0]).toBeCloseTo(16.9 - 4.536, 9)
    const end = at(
      weak((d) => {
        d.shackle.notch.fromToeEndMm = 4.5
      }),
      'pull',
    )
    expect(end?.link).toBe('lip-shear')
    expect(end?.at[1]).toBeGreaterThan(hb50.body.crossBoreFromTopMm)
  })

  it('stands with figure and words on the card of the test and on the shackle, for every load', () => {
    for (const svg of [partDrawing('prove', hb50, 'sheet'), shackleBentDrawing(hb50)]) {
      for (const { title, words } of weakPlaces(hb50)) {
        expect(svg).toContain(title)
        expect(svg).toContain(words)
      }
      expect(svg).toContain('Weakest links by estimate: tests decide.')
    }
    expect(weakPlaces(hb50).map(({ load }) => load)).toEqual(['pull', 'twist', 'cut'])
  })
})
