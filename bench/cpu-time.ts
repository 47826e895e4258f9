/** Processor time that work takes in this process, all its threads together, in seconds. */
export async function cpuTime_s(work: () => unknown): Promise<number> {
  const before = process.cpuUsage();
  await work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1e6;
}
