import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { changePassphrase, keyFileOf, makeKey } from '@trueloop/host/keys'
import { replaceKey } from '@trueloop/host/shop'
import { keysFolder, registeredPerson, signerFor } from '@trueloop/host/signing'
import { Command } from 'commander'
import { dataFolder } from '../home.ts'
import { say } from '../terminal/say.ts'
import { withArchive } from '../work/archive.ts'
import { chosenPassphrase, newPassphrase, ownPassphrase, passphraseOf } from '../work/passphrase.ts'
import { tellDue } from '../work/signer.ts'

const example = `
Examples:
  trueloop key new "A. Sample"
  trueloop key change "A. Sample"
  trueloop key replace "A. Sample" --as "C. Level" --reason "passphrase forgotten"

A passphrase is asked for in the terminal, or taken from the first line of --passphrase-file, or from
TRUELOOP_PASSPHRASE; one that is new beside it from --new-passphrase-file, or from TRUELOOP_NEW_PASSPHRASE.`

interface Files {
  readonly passphraseFile?: string
  readonly newPassphraseFile?: string
  readonly json?: boolean
}

interface Replacing extends Files {
  readonly as: string
  readonly reason: string
}

export const command = (): Command =>
  new Command('key')
    .description('Makes a key for a person, changes its passphrase, or has a lost key replaced by a second person.')
    .addCommand(making())
    .addCommand(changing())
    .addCommand(replacing())
    .addHelpText('after', example)

const withFiles = (command: Command): Command =>
  command
    .argument('<name>', 'name of the person')
    .option('--passphrase-file <file>', 'file whose first line is the passphrase')
    .option('--json', 'one JSON document, key/1, on standard output')

const withNewFile = (command: Command): Command =>
  withFiles(command).option('--new-passphrase-file <file>', 'file whose first line is the new passphrase')

const making = (): Command =>
  withFiles(new Command('new'))
    .description('Makes a key, sealed under a passphrase that the person chooses.')
    .action(async (name: string, files: Files) => tell('made', await make(name, files), files))

const changing = (): Command =>
  withNewFile(new Command('change'))
    .description('Changes the passphrase. The key stays the same.')
    .action(async (name: string, files: Files) => tell('passphrase changed', await change(name, files), files))

const replacing = (): Command =>
  withNewFile(new Command('replace'))
    .description('Puts a new key in the place of a lost one. A second person of Level III signs that.')
    .requiredOption('--as <name>', 'the second person, who signs')
    .requiredOption('--reason <text>', 'what became of the old key')
    .action(async (name: string, options: Replacing) => tell('replaced', await replace(name, options), options))

interface Done {
  readonly name: string
  readonly public: string
}

async function make(name: string, { passphraseFile }: Files): Promise<Result<Done>> {
  const place = { folder: keysFolder(dataFolder()), name }
  const there = await keyFileOf(place)
  const isFree = isRefusal(there) && there.code === 'keys/no-key'
  const passphrase = isFree ? await chosenPassphrase(name, ownPassphrase(passphraseFile)) : ''
  if (isRefusal(passphrase)) return passphrase
  const made = isRefusal(there) && !isFree ? there : await makeKey(place, passphrase)
  return isRefusal(made) ? made : { name, public: made }
}

async function change(name: string, { passphraseFile, newPassphraseFile }: Files): Promise<Result<Done>> {
  const which = await keyNow(name)
  if (isRefusal(which)) return which
  const from = await passphraseOf(name, ownPassphrase(passphraseFile))
  if (isRefusal(from)) return from
  const to = await chosenPassphrase(name, newPassphrase(newPassphraseFile))
  if (isRefusal(to)) return to
  const done = await changePassphrase(which, { from, to })
  return isRefusal(done) ? done : { name, public: which.public }
}

/** The key that the register names; before the person is registered, the one that lies there. */
async function keyNow(name: string) {
  const place = { folder: keysFolder(dataFolder()), name }
  const found = await withArchive((archive) => registeredPerson(name, archive))
  if (!isRefusal(found)) return { ...place, public: found.row.key.public }
  if (found.code !== 'signing/not-registered') return found
  const file = await keyFileOf(place)
  return isRefusal(file) ? file : { ...place, public: file.file.public }
}

async function replace(name: string, { as, reason, ...files }: Replacing): Promise<Result<Done>> {
  const home = dataFolder()
  const passphrase = await passphraseOf(as, ownPassphrase(files.passphraseFile))
  if (isRefusal(passphrase)) return passphrase
  const chosen = await chosenPassphrase(name, newPassphrase(files.newPassphraseFile))
  if (isRefusal(chosen)) return chosen
  return withArchive(async (archive) => {
    const person = await signerFor(as, archive, { home, passphrase })
    if (isRefusal(person)) return person
    tellDue(as, person)
    const old = await registeredPerson(name, archive)
    if (isRefusal(old)) return old
    const made = await makeKey({ folder: keysFolder(home), name }, chosen, { beside: true })
    if (isRefusal(made)) return made
    const done = await replaceKey({ old, public: made, reason }, { archive, signer: person.signer })
    return isRefusal(done) ? done : { name, public: made }
  }, home)
}

function tell(did: string, done: Result<Done>, { json = false }: Files): void {
  const said = { document: 'key/1', json, refusals: [] as readonly Refusal[] }
  if (isRefusal(done)) return void say({ ...said, refusals: [done], text: [], data: {} })
  const text = [`${did}: key of ${done.name}`, `  public half: ${done.public}`]
  say({ ...said, text, data: { did, ...done } })
}
