import { homedir } from 'node:os'
import { join } from 'node:path'

/** The data folder: TRUELOOP_HOME, else where the platform keeps data of programs. */
export function dataFolder(env: NodeJS.ProcessEnv = process.env, platform: NodeJS.Platform = process.platform): string {
  if (env.TRUELOOP_HOME) return env.TRUELOOP_HOME
  if (platform === 'win32') return join(env.APPDATA || join(homedir(), 'AppData', 'Roaming'), 'Trueloop')
  if (platform === 'darwin') return join(homedir(), 'Library', 'Application Support', 'Trueloop')
  return join(env.XDG_DATA_HOME || join(homedir(), '.local', 'share'), 'trueloop')
}

/** The demonstration keeps away from own jobs: a folder of its own, unless TRUELOOP_HOME says which. */
export const demoFolder = (env: NodeJS.ProcessEnv = process.env): string =>
  env.TRUELOOP_HOME || join(dataFolder(env), 'demonstration')

export const archiveFolder = (home: string): string => join(home, 'archive')

/** A job's name as a file name. */
export const fileNameOf = (job: string): string =>
  job.replaceAll(/[^\p{L}\p{N}._-]+/gu, '-').replaceAll(/^[-.]+|[-.]+$/g, '') || 'job'
