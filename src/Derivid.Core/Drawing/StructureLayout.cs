using System.Collections.Immutable;
using System.Numerics;
using Derivid.Core.Structures;

namespace Derivid.Core.Drawing;

/// <summary>Where a molecule's atoms lie on the paper, as a chemist would draw it.</summary>
/// <remarks>
/// The largest ring system first, or an end of the longest chain; then outwards atom by atom: chains in zigzag, sp atoms
/// straight, what is left evenly spread. Double bonds get the configuration given; one without any lies as it falls.
/// Then what lies on top of each other is turned away (<see cref="Uncrowding"/>) and the whole is set upright
/// (<see cref="Upright"/>). Unconnected parts stand side by side. Deterministic.
/// </remarks>
internal sealed class StructureLayout
{
    private const double Bend = Math.PI * 2 / 3;
    private const double Clock = Math.PI / 6;
    private const double GapBetweenParts = 1.5;

    private readonly Molecule _molecule;
    private readonly ImmutableArray<ImmutableArray<int>> _systems;
    private readonly Complex?[] _places;
    private readonly int[] _turns;

    // Atoms of bridged systems laid out first: their angles fit nothing else, so what hangs on them is set by the clock.
    private readonly HashSet<int> _upright = [];

    private StructureLayout(Molecule molecule)
    {
        _molecule = molecule;
        _systems = RingSystems.Of(molecule);
        _places = new Complex?[molecule.Atoms.Length];
        _turns = new int[molecule.Atoms.Length];
        Rings = SmallestRings.Of(molecule);
    }

    private ImmutableArray<ImmutableArray<int>> Rings { get; }

    /// <summary>Lays a molecule out.</summary>
    /// <param name="molecule">The molecule.</param>
    /// <param name="rings">Its smallest rings.</param>
    /// <returns>Shape: a point an atom, y up. Units: bond lengths.</returns>
    public static Complex[] Of(Molecule molecule, out ImmutableArray<ImmutableArray<int>> rings)
    {
        var layout = new StructureLayout(molecule);
        rings = layout.Rings;
        var places = new Complex[molecule.Atoms.Length];
        double right = 0;
        foreach (ImmutableArray<int> part in Parts(molecule))
        {
            layout.Grow(layout.Root(part));
            foreach (int atom in part)
            {
                places[atom] = layout._places[atom]!.Value;
            }

            Uncrowding.Settle(molecule, part, places);
            Upright.Set(molecule, part, rings, places);
            double left = part.Min(atom => places[atom].Real);
            foreach (int atom in part)
            {
                places[atom] += right - left;
            }

            right = part.Max(atom => places[atom].Real) + GapBetweenParts;
        }

        return places;
    }

    private static List<ImmutableArray<int>> Parts(Molecule molecule)
    {
        var parts = new List<ImmutableArray<int>>();
        var seen = new HashSet<int>();
        for (int atom = 0; atom < molecule.Atoms.Length; atom++)
        {
            if (!seen.Contains(atom))
            {
                ImmutableArray<int> part = Branch.From(molecule, atom, without: -1);
                seen.UnionWith(part);
                parts.Add(part);
            }
        }

        return parts;
    }

    private int Root(ImmutableArray<int> part)
    {
        ImmutableArray<int> largest = _systems.Where(system => part.Contains(system[0]))
            .OrderByDescending(system => system.Length).FirstOrDefault();
        return !largest.IsDefault ? largest[0] : EndOfChain(EndOfChain(part[0]));
    }

    /// <summary>The atom furthest away that is no doubly bonded end, such as a carbonyl oxygen, unless there is none.</summary>
    private int EndOfChain(int from)
    {
        ImmutableArray<int> all = Branch.From(_molecule, from, without: -1);
        return all.LastOrDefault(atom => !IsDoubleEnd(atom), all[^1]);
    }

    private bool IsDoubleEnd(int atom) => _molecule.NeighboursOf(atom) is [{ Order: 2 }];

    private void Grow(int root)
    {
        _places[root] = Complex.Zero;
        var open = new Queue<int>();
        Settle(root, null, open);
        while (open.TryDequeue(out int atom))
        {
            int[] next = [.. _molecule.NeighboursOf(atom).Select(beside => beside.Atom).Where(other => _places[other] is null)
                .OrderByDescending(other => Branch.From(_molecule, other, without: atom).Length)
                .ThenBy(IsDoubleEnd)];
            double[] directions = Directions(atom, next);
            for (int index = 0; index < next.Length; index++)
            {
                _places[next[index]] = _places[atom] + Plane.Step(directions[index]);
                Settle(next[index], atom, open);
            }
        }
    }

    /// <summary>Lays out the ring system of an atom just placed, turned away from the atom it came by.</summary>
    private void Settle(int atom, int? cameBy, Queue<int> open)
    {
        ImmutableArray<int> system = _systems.FirstOrDefault(system => system.Contains(atom));
        if (system.IsDefault)
        {
            open.Enqueue(atom);
            return;
        }

        Dictionary<int, Complex> form = RingSystemLayout.Of(_molecule, system, Rings);
        Complex turn = Complex.One;
        if (cameBy is null && RingSystemLayout.IsBridged(system, Rings))
        {
            _upright.UnionWith(system);
        }

        if (cameBy is int before)
        {
            int outside = _molecule.NeighboursOf(atom).Count(next => !form.ContainsKey(next.Atom));
            double own = Plane.Spread(
                _molecule.NeighboursOf(atom).Where(next => form.ContainsKey(next.Atom))
                    .Select(next => (form[next.Atom] - form[atom]).Phase),
                outside)[0];
            turn = Plane.Step((_places[before]!.Value - _places[atom]!.Value).Phase - own);
        }

        Complex origin = _places[atom]!.Value;
        foreach (int member in system)
        {
            _places[member] = origin + (turn * (form[member] - form[atom]));
            open.Enqueue(member);
        }
    }

    /// <summary>Directions for the neighbours that are to be placed, the largest branch first.</summary>
    private double[] Directions(int atom, int[] next)
    {
        double[] taken = [.. _molecule.NeighboursOf(atom).Where(beside => _places[beside.Atom] is not null)
            .Select(beside => (_places[beside.Atom]!.Value - _places[atom]!.Value).Phase)];
        if (taken.Length == 0)
        {
            return FromNothing(atom, next.Length);
        }

        if (taken.Length > 1 || next.Length == 0)
        {
            double[] spread = Plane.Spread(taken, next.Length);
            return _upright.Contains(atom) ? [.. spread.Select(angle => Math.Round(angle / Clock) * Clock)] : spread;
        }

        if (IsStraight(atom))
        {
            _turns[next[0]] = _turns[atom];
            return [taken[0] + Math.PI];
        }

        return OnFrom(atom, taken[0], next);
    }

    private double[] FromNothing(int atom, int count) => count switch
    {
        2 when IsStraight(atom) => [0, Math.PI],
        1 or 2 or 3 => [.. Enumerable.Range(0, count).Select(index => (Math.PI / 6) + (index * Bend))],
        _ => [.. Enumerable.Range(0, count).Select(index => index * Math.Tau / count)],
    };

    private double[] OnFrom(int atom, double back, int[] next)
    {
        int turn = _turns[atom] <= 0 ? 1 : -1;
        foreach (int other in next)
        {
            _turns[other] = turn;
        }

        if (next.Length == 1)
        {
            return [back + (turn * Bend)];
        }

        if (next.Length == 2)
        {
            _turns[next[1]] = -turn;
            return [back + (turn * Bend), back - (turn * Bend)];
        }

        if (next.Length > 3)
        {
            return [.. Plane.Spread([back], next.Length)];
        }

        // A chain goes on past two small groups; a cross where there is no chain to go on, and at S and P.
        bool goesOn = _molecule.Atoms[atom].Symbol == "C"
            && _molecule.NeighboursOf(next[0]).Length > 1
            && _molecule.NeighboursOf(next[1]).Length == 1;
        return goesOn
            ? [back + (turn * Bend), back + (turn * (Bend + 1.4)), back + (turn * (Bend + 2.8))]
            : [back + Math.PI, back + (Math.PI / 2), back - (Math.PI / 2)];
    }

    private bool IsStraight(int atom)
    {
        ImmutableArray<BondedAtom> beside = _molecule.NeighboursOf(atom);
        return beside.Length == 2 && (beside.Any(next => next.Order > 2) || beside.All(next => next.Order == 2));
    }
}

/// <summary>The part of a molecule that hangs on a bond.</summary>
internal static class Branch
{
    /// <summary>Every atom reached from one without passing another. Shape: nearest first.</summary>
    public static ImmutableArray<int> From(Molecule molecule, int atom, int without)
    {
        var reached = new List<int> { atom };
        var seen = new HashSet<int> { atom, without };
        for (int index = 0; index < reached.Count; index++)
        {
            reached.AddRange(molecule.NeighboursOf(reached[index]).Select(next => next.Atom).Where(seen.Add));
        }

        return [.. reached];
    }
}
