import type { Design } from '@haspwright/engine'
import {
  barrelDrawing,
  bodyDrawing,
  detentDrawing,
  discStackDrawing,
  shackleBentDrawing,
  shackleBlankDrawing,
} from '@haspwright/papers/drawing'
import { useState } from 'react'
import { Tab, TabList, TabPanel, Tabs } from 'react-aria-components'
import { Drawing } from '../sheet/Drawing.tsx'

/** The drawings of a design, made from its figures as they stand in the form. */
export function DesignDrawings({ design }: { design: Design }) {
  const [selected, setSelected] = useState('body')
  return (
    <Tabs className="design-drawings" selectedKey={selected} onSelectionChange={(key) => setSelected(String(key))}>
      <TabList aria-label="Drawings" className="drawing-tabs screen-only">
        {DRAWINGS.map(([id, title]) => (
          <Tab key={id} id={id} className="drawing-tab">
            {title}
          </Tab>
        ))}
      </TabList>
      {DRAWINGS.map(([id, , draw]) => (
        <TabPanel key={id} id={id} className="drawing-panel">
          <Drawing svg={draw(design)} className="design-drawing" />
        </TabPanel>
      ))}
    </Tabs>
  )
}

const DRAWINGS: readonly (readonly [id: string, title: string, draw: (design: Design) => string])[] = [
  ['body', 'Body', (design) => bodyDrawing(design)],
  ['blank', 'Shackle, blank', (design) => shackleBlankDrawing(design)],
  ['bent', 'Shackle, bent', (design) => shackleBentDrawing(design)],
  ['barrel', 'Barrel, sidebar, balls', (design) => barrelDrawing(design)],
  ['stack', 'Disc stack', (design) => discStackDrawing(design)],
  ['locked', 'Balls, locked', (design) => detentDrawing(design, { state: 'locked' })],
  ['open', 'Balls, released', (design) => detentDrawing(design, { state: 'released' })],
]
