import { Command, CommanderError } from 'commander'
import { type Exit, exit } from './exit.ts'
import { type Listed, registry } from './registry.ts'
import { listenForEnd, outcome } from './terminal/process.ts'

/** Runs one command line to its end; resolves to the exit code. */
export async function run(args: readonly string[]): Promise<Exit> {
  const { signal } = listenForEnd()
  try {
    await programFor(args).then((program) => program.parseAsync(args, { from: 'user' }))
    return signal.aborted ? exit.interrupted : outcome.exit
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? exit.done : exit.wrongUse
    if (signal.aborted) return exit.interrupted
    return defect(error)
  }
}

async function programFor(args: readonly string[]): Promise<Command> {
  const wanted = args.find((arg) => !arg.startsWith('-') && arg !== 'help')
  const program = new Command('trueloop')
    .description('Eddy-current examination of fastener holes and welds: from recording to a record.')
    .helpCommand('help [command]')
    .configureHelp({ helpWidth: 100 })
    .addHelpText('after', example)
  for (const listed of registry) program.addCommand(listed.name === wanted ? await loaded(listed) : stub(listed))
  return strict(program)
}

const example = `
Example:
  trueloop rehearse sample && trueloop plan sample/job.yaml && trueloop examine sample/job.yaml

What the exit code says: 0 done; 1 done, and something waits for a person; 2 input refused; 3 archive;
64 wrong use; 70 our defect; 130 interrupted.`

const loaded = async ({ load, summary }: Listed): Promise<Command> => (await load()).command().summary(summary)

const stub = ({ name, summary }: Listed): Command => new Command(name).summary(summary)

/** Wrong use is thrown, not exited with, so that it gets our own code. */
function strict(program: Command): Command {
  for (const command of allOf(program)) command.exitOverride().showHelpAfterError('(see --help)')
  return program
}

const allOf = (command: Command): readonly Command[] => [command, ...command.commands.flatMap(allOf)]

function defect(error: unknown): Exit {
  const what = error instanceof Error ? (error.stack ?? error.message) : String(error)
  process.stderr.write(
    `${what}\nThis is a defect of the program, not of the input. What was recorded before stays as it is.\n`
  )
  return exit.defect
}
