import { isRefusal } from '@trueloop/ground/refusal'
import { alikeIn } from '@trueloop/host/chain'
import { closePlaces, leaveOut, type Signing, state } from '@trueloop/host/decide'
import { alikeText, replay } from '@trueloop/job/record'
import { Command } from 'commander'
import { type Stating, signedBy, stateAs } from '../work/stating.ts'

const example = `
Examples:
  trueloop close DEMO-1 P01 P03 --as "B. Two"
  trueloop close DEMO-1 P05 --leave-out --reason "no access before the next shift" --as "B. Two"
  trueloop close DEMO-1 --whole-job --as "B. Two"
  trueloop close DEMO-1 --open-again --reason "hole P05 can be reached now" --as "B. Two"

Nothing that was not examined, that a recheck voided or may still void, or that waits for a person can be closed.`

interface Options extends Stating {
  readonly leaveOut?: boolean
  readonly wholeJob?: boolean
  readonly openAgain?: boolean
  readonly reason?: string
}

export const command = (): Command =>
  signedBy(
    new Command('close')
      .description('Closes places, or the whole job once every place is closed or left out.')
      .argument('<job>', 'number of the job')
      .argument('[places...]', 'holes, tracks or places')
      .option('--leave-out', 'these places are left unexamined under this job; needs a reason')
      .option('--whole-job', 'close the job')
      .option('--open-again', 'open a closed job again; needs a reason')
      .option('--reason <text>', 'why')
  )
    .addHelpText('after', example)
    .action(run)

async function run(job: string, places: readonly string[], options: Options, self: Command): Promise<void> {
  const { leaveOut: leaves = false, wholeJob = false, openAgain = false, reason } = options
  const ofJob = wholeJob || openAgain
  if (ofJob === places.length > 0 || (wholeJob && openAgain)) self.error('error: name places, or the whole job')
  if ((leaves || openAgain) && reason === undefined) self.error('error: --reason is needed')
  await stateAs({ job, options, places }, async (signing) => {
    if (openAgain) return state({ kind: 'job-reopened', reason: reason as string }, signing)
    if (wholeJob) {
      await warn(signing)
      return state({ kind: 'job-closed', ...(reason === undefined ? {} : { remarks: reason }) }, signing)
    }
    return leaves ? leaveOut(places, reason as string, signing) : closePlaces(places, signing)
  })
}

/** Other holes of the job give a warning, never a verdict. */
async function warn({ archive, job }: Signing): Promise<void> {
  const rows = await archive.entries(job)
  if (isRefusal(rows) || rows.length === 0) return
  const compared = await alikeIn(archive, replay(rows))
  if (isRefusal(compared)) return void process.stderr.write(`the walls were not compared: ${compared.found}\n`)
  for (const pair of compared.pairs) process.stderr.write(`${alikeText(pair)}\n`)
}
