import { StringDecoder } from 'node:string_decoder'

/** What is typed for no eyes: nothing of it is shown, not even how many characters it has. */

export interface Typing {
  readonly input: NodeJS.ReadStream
  readonly output: NodeJS.WritableStream
}

export const terminal: Typing = { input: process.stdin, output: process.stderr }

const ctrlC = '\u0003'
const endings = ['\r', '\n', ctrlC]

/** Whether a person sits there who can type. */
export const canType = ({ input }: Typing = terminal): boolean => input.isTTY === true

/** Asks for one line. Ctrl-C ends the command as anywhere else: what was being done is not done. */
export function askHidden(question: string, { input, output }: Typing = terminal): Promise<string> {
  // before the question stands there: who answers at once is not shown either
  input.setRawMode(true)
  output.write(question)
  const decoder = new StringDecoder('utf8')
  let typed: readonly string[] = []
  return new Promise((resolve, reject) => {
    const end = (settle: () => void): void => {
      input.off('data', take)
      input.setRawMode(false)
      input.pause()
      output.write('\n')
      settle()
    }
    const take = (bytes: Buffer): void => {
      for (const character of decoder.write(bytes)) {
        if (endings.includes(character)) {
          end(() => (character === ctrlC ? interrupt(reject) : resolve(typed.join(''))))
          return
        }
        typed = after(typed, character)
      }
    }
    input.on('data', take)
    input.resume()
  })
}

/** In raw mode Ctrl-C is a character; it still means what it means. */
function interrupt(reject: (error: Error) => void): void {
  process.emit('SIGINT')
  reject(new Error('interrupted'))
}

/** Backspace takes the last character away, Ctrl-U all; other control characters are no part of a passphrase. */
function after(typed: readonly string[], character: string): readonly string[] {
  if (character === '\u007f' || character === '\b') return typed.slice(0, -1)
  if (character === '\u0015') return []
  return character < ' ' ? typed : [...typed, character]
}
