/** npm start: sets this clone up, builds what changed, runs the demonstration job. `-- --once` does all and exits. */
import { build, program } from './lib/build.mjs'
import { endOnSignals, run } from './lib/child.mjs'
import { inClone } from './lib/places.mjs'
import { main, SetupFailure, setUp } from './lib/setup.mjs'

endOnSignals()
await main(async () => {
  await setUp(async () => {
    if (!(await build())) throw new SetupFailure('the program could not be built: see the lines above')
  })
  const env = { ...process.env, TRUELOOP_HOME: process.env.TRUELOOP_HOME || inClone('.trueloop') }
  const { code } = await run(process.execPath, [program('cli'), 'demo', ...process.argv.slice(2)], { env })
  return code
})
