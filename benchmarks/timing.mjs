/** Milliseconds of processor time that some work took: what the machine does besides is not the program's time. */
export function processorTime(work) {
  const before = process.cpuUsage()
  const made = work()
  const took = () => {
    const { user, system } = process.cpuUsage(before)
    return (user + system) / 1000
  }
  return made instanceof Promise ? made.then(took) : took()
}

/** The quickest of several runs. */
export function quickest(runs, work) {
  return Math.min(...Array.from({ length: runs }, () => processorTime(work)))
}

export const perSecond = (perMillisecond) => Math.round(perMillisecond * 1000).toLocaleString('en')
export const seconds = (milliseconds) => `${(milliseconds / 1000).toFixed(2)} s`
