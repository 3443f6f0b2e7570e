import { useEffect, useRef } from 'react'
import { sound } from './tones.ts'
import type { WatchedFile } from './watch.ts'

/** Once for each file that becomes complete, or has to be scanned again, while the page looks. */
export function useSound(file: WatchedFile | undefined, isOn: boolean): void {
  const told = useRef(file === undefined ? '' : file.file + file.at)
  useEffect(() => {
    if (file === undefined || (file.state !== 'complete' && file.state !== 'scan again')) return
    if (told.current === file.file + file.at) return
    told.current = file.file + file.at
    if (isOn) sound(file.state)
  }, [file, isOn])
}
