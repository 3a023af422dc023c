/** Limits that were filled in and not changed follow the units that are chosen at set-up. */

/** Follows the choice of units on a page that has such limits. */
export function startUsualLimits(root) {
  for (const choice of root.querySelectorAll('[name=units]')) {
    choice.addEventListener('change', () => {
      for (const field of root.querySelectorAll('[data-in-mm]')) {
        const usual = { mm: field.dataset.inMm, in: field.dataset.inIn };
        if (Object.values(usual).includes(field.value)) field.value = usual[choice.value];
      }
    });
  }
}
