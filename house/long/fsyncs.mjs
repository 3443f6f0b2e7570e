/**
 * What the system is really asked to bring to the disk while one hole is examined: fsync and fdatasync as strace sees
 * them, by file, beside the steps that the archive's own port counts. Every original and every new name has to be among
 * them, and the database's log once a commit at least.
 */
import { spawnSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { bundleFile } from '../../scripts/lib/build.mjs'

export const title = 'fsync and fdatasync of one examined hole, counted by strace'

/** Which kind of file a path is; the order matters. */
const kinds = [
  ['log of the database', /archive\.db-wal$/],
  ['journal of the database', /archive\.db-journal$/],
  ['database', /archive\.db$/],
  ['unfinished original', /originals\/unfinished\/[^/]+$/],
  ['original under its name', /originals\/[0-9a-f]{2}\/[0-9a-f]{64}$/],
  ['folder', /./]
]

const kindOf = (path) => kinds.find(([, pattern]) => pattern.test(path))[0]

/** `fsync(17</path>) = 0`, also where another thread came between. */
const syncedIn = (trace) => [...trace.matchAll(/f(?:data)?sync\(\d+<([^>]*)>/g)].map(([, path]) => path)

const countsOf = (names) =>
  Object.fromEntries([...new Set(names)].sort().map((name) => [name, names.filter((one) => one === name).length]))

/** The first commit, which makes the tables, goes to the log as all others do: the journal is that of changing to it. */
function judge(port, seen) {
  const files = port.sync ?? 0
  return {
    everyOriginalBeforeItsName: seen['unfinished original'] === files,
    everyNewName: (seen.folder ?? 0) >= (port.syncFolder ?? 0),
    logOnceACommitAtLeast: (seen['log of the database'] ?? 0) >= (port.commit ?? 0)
  }
}

export async function run({ findTool }) {
  const strace = findTool('strace')
  if (strace === undefined) return { ok: false, error: 'not applicable: strace is missing' }
  const program = await bundleFile('host/chain/testing/stopped.ts', 'build/long/stopped.mjs')
  const made = await bundleFile('house/long/fsyncs/recordings.ts', 'build/long/fsyncs-recordings.mjs')
  const { writeRecordings } = await import(pathToFileURL(made).href)
  const home = mkdtempSync(join(tmpdir(), 'trueloop-fsyncs-'))
  try {
    return counted({ strace, program, home, writeRecordings })
  } finally {
    rmSync(home, { recursive: true, force: true })
  }
}

function counted({ strace, program, home, writeRecordings }) {
  const [recordings, folder, trace] = ['recordings', 'data', 'trace'].map((name) => join(home, name))
  mkdirSync(recordings)
  mkdirSync(folder)
  writeRecordings(recordings)
  const options = ['-f', '-y', '-e', 'trace=fsync,fdatasync', '-o', trace]
  const { status, stdout, stderr } = spawnSync(strace, [...options, process.execPath, program, folder, recordings], {
    encoding: 'utf8'
  })
  if (status !== 0) return { ok: false, error: `not applicable: strace ended with ${status}: ${stderr.slice(-500)}` }
  const port = countsOf(stdout.trimEnd().split('\n').at(-1).split(' ').slice(1))
  const paths = syncedIn(readFileSync(trace, 'utf8'))
  const seen = countsOf(paths.map(kindOf))
  const holds = judge(port, seen)
  return { ok: Object.values(holds).every(Boolean), port, seen, inAll: paths.length, holds }
}
