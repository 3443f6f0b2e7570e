import { writeSync } from 'node:fs'
import { stepping } from '../../archive/testing/stepping.ts'
import { wholeRun } from './one-hole.ts'

/**
 * `stopped FOLDER RECORDINGS AT WHEN`: examines one hole and kills itself before, in the middle of or after one step of the
 * archive. What has been acknowledged is said on standard output at once; a run that came to its end says its steps.
 */
const [, , folder = '', recordings = '', at = '-1', when = 'before'] = process.argv

const killAt = (step: number): void => {
  if (step === Number(at)) process.kill(process.pid, 'SIGKILL')
}
const say = (line: string): void => void writeSync(1, `${line}\n`)

const steps = stepping({ [when]: killAt })
const refusals = await wholeRun(folder, recordings, { steps, tell: say })
for (const { code } of refusals) say(`refused ${code}`)
say(`steps ${steps.steps.join(' ')}`)
