// Other texts of the same molecule: aromatic and Kekulé, and with atoms and branches in other orders.

const REORDERINGS = 3;

/** Shape: distinct texts, the aromatic canonical one first. Configuration is left out. */
export function otherSmilesOf(molecule) {
  const plain = molecule.getCompactCopy();
  plain.stripStereoInformation();
  const texts = [plain.toIsomericSmiles(), plain.toIsomericSmiles({ kekulizedOutput: true })];
  for (let seed = 1; seed <= REORDERINGS; seed++) {
    texts.push(reordered(plain, seed));
  }
  return [...new Set(texts)];
}

// The canonical order of atoms depends on isotopes, so marking some atoms reorders the text; the marks are then removed,
// which leaves those atoms in brackets with their hydrogens written.
function reordered(molecule, seed) {
  const marked = molecule.getCompactCopy();
  const draw = drawing(seed);
  for (let atom = 0; atom < marked.getAllAtoms(); atom++) {
    const number = marked.getAtomicNo(atom);
    if (number > 1 && marked.getAtomMass(atom) === 0 && draw() < 0.5) {
      marked.setAtomMass(atom, 2 * number + 1 + Math.floor(4 * draw()));
    }
  }
  return marked.toIsomericSmiles().replaceAll(/\[\d+/g, '[');
}

/** The same numbers from 0 to 1 on every run: the linear congruential generator of Numerical Recipes, 32 bits. */
function drawing(seed) {
  let state = seed;
  return () => {
    state = (Math.imul(1664525, state) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
