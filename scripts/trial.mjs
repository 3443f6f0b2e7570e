/** npm run trial: examines the trial recordings through the public commands and prints the score. Arguments are handed on. */
import { build, program } from './lib/build.mjs'
import { endOnSignals, run } from './lib/child.mjs'
import { sharedPath } from './lib/places.mjs'
import { main, SetupFailure, setUp } from './lib/setup.mjs'

endOnSignals()
await main(async () => {
  const trial = sharedPath('trial')
  if (trial === undefined)
    throw new SetupFailure('found no trial recordings; needed the folder of outside data; name it in TRUELOOP_SHARED')
  await setUp(async () => {
    if (!(await build())) throw new SetupFailure('the program could not be built: see the lines above')
  })
  const { code } = await run(process.execPath, [program('cli'), 'trial', trial, ...process.argv.slice(2)])
  return code
})
