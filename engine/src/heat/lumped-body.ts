import { source } from '../source.ts'

export const lumpedBall = source({
  id: 'worked.lumped-ball',
  status: 'handbook',
  citation: 'Worked example of a steel ball of 20 mm cooling in oil of 30 °C from 500 to 100 °C with h = 600: 39.9 s',
  note: 'A ball has three times the surface of its volume over the radius, a long round two: the round of the same h takes 3/2 as long.',
})
