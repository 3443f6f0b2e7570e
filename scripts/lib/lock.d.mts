export declare function withLock<T>(path: string, say: (line: string) => void, work: () => Promise<T>): Promise<T>
