import { spawnSync } from 'node:child_process'

/** What another program prints; throws where it is not content. */
export function run(program: string, args: readonly string[], folder?: string): string {
  const { status, stdout, stderr } = spawnSync(program, args, { encoding: 'utf8', cwd: folder })
  if (status !== 0) throw new Error(`${program} ended with ${status}: ${stdout}${stderr}`)
  return stdout
}
