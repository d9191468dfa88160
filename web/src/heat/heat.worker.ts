import { answerHeat, type HeatQuestion } from './heat-view.ts'

/** Works out what the hardening station shows, away from the page: a section by conduction takes longer than a frame. */
addEventListener('message', ({ data }: MessageEvent<{ number: number; question: HeatQuestion }>) => {
  const { number, question } = data
  try {
    postMessage({ number, answer: answerHeat(question) })
  } catch (fault) {
    postMessage({ number, fault: fault instanceof Error ? fault.message : 'unknown' })
  }
})
