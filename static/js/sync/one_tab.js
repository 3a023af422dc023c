/** One tab at a time speaks to the shop. */

const LOCK = 'axlewright shop';

/**
 * Runs `work` when no other tab speaks to the shop; goes ahead after a while, as the shop stores
 * an entry only once anyway.
 */
export async function inOneTab(work, patience) {
  if (!navigator.locks) return work();
  let begun = false;
  const begin = () => {
    begun = true;
    return work();
  };
  try {
    return await navigator.locks.request(
      LOCK,
      { signal: AbortSignal.timeout(3 * patience) },
      begin,
    );
  } catch (error) {
    if (begun) throw error;
    return work();
  }
}
