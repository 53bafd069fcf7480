using System.Collections.Immutable;
using System.Numerics;
using Derivid.Core.Structures;

namespace Derivid.Core.Drawing;

/// <summary>Lays out bridged ring systems, such as camphor's: built in space, then seen from where most of it shows.</summary>
/// <remarks>
/// In space by stress majorization (E. R. Gansner, Y. Koren, S. North, Graph Drawing 2004, LNCS 3383, 239-250): atoms
/// that are further apart by bonds are to be further apart. The views tried are spread evenly over half a sphere, and
/// the one taken has atoms well apart, bonds alike in length and few crossings; then bonds are evened out on the paper.
/// </remarks>
internal static class Cage
{
    private const int Rounds = 200;
    private const int Views = 300;
    private const double GoldenAngle = 2.399963229728653;

    /// <summary>Positions of a connected system's atoms. Units: bond lengths.</summary>
    public static Dictionary<int, Complex> Of(Molecule molecule, IReadOnlyList<int> atoms) =>
        Norbornane.Of(molecule, atoms) ?? Built(molecule, atoms);

    private static Dictionary<int, Complex> Built(Molecule molecule, IReadOnlyList<int> atoms)
    {
        var indices = atoms.Select((atom, index) => (atom, index)).ToDictionary(pair => pair.atom, pair => pair.index);
        (int First, int Second)[] bonds = [.. molecule.Bonds
            .Where(bond => indices.ContainsKey(bond.First) && indices.ContainsKey(bond.Second))
            .Select(bond => (indices[bond.First], indices[bond.Second]))];
        double[,] wanted = Distances(atoms.Count, bonds);
        Vector3[] space = InSpace(wanted);
        Complex[] best = [.. Enumerable.Range(0, Views)
            .Select(view => Seen(space, OnSphere(2 * Views, view)))
            .MinBy(plane => Confusion(plane, bonds))!];
        Complex[] even = Lying(Evened(best, bonds));
        return atoms.Select((atom, index) => (atom, index)).ToDictionary(pair => pair.atom, pair => even[pair.index]);
    }

    /// <summary>How far apart two atoms are in space, by the bonds between them: chains fold a little.</summary>
    private static double[,] Distances(int count, (int First, int Second)[] bonds)
    {
        var steps = new int[count, count];
        ILookup<int, int> beside = bonds.Concat(bonds.Select(bond => (bond.Second, bond.First)))
            .ToLookup(bond => bond.Item1, bond => bond.Item2);
        var wanted = new double[count, count];
        for (int root = 0; root < count; root++)
        {
            var open = new Queue<int>([root]);
            while (open.TryDequeue(out int atom))
            {
                foreach (int next in beside[atom].Where(next => next != root && steps[root, next] == 0))
                {
                    steps[root, next] = steps[root, atom] + 1;
                    wanted[root, next] = steps[root, next] switch { 1 => 1, 2 => 1.6, _ => 0.8 * steps[root, next] };
                    open.Enqueue(next);
                }
            }
        }

        return wanted;
    }

    private static Vector3[] InSpace(double[,] wanted)
    {
        int count = wanted.GetLength(0);
        Vector3[] space = [.. Enumerable.Range(0, count).Select(index => OnSphere(count, index))];
        for (int round = 0; round < Rounds; round++)
        {
            for (int atom = 0; atom < count; atom++)
            {
                Vector3 sum = Vector3.Zero;
                double weights = 0;
                for (int other = 0; other < count; other++)
                {
                    if (other == atom)
                    {
                        continue;
                    }

                    double distance = wanted[atom, other];
                    double weight = distance > 1 ? 1 / (distance * distance * distance) : 4;
                    Vector3 apart = space[atom] - space[other];
                    float length = Math.Max(apart.Length(), 1e-3f);
                    sum += (float)weight * (space[other] + (apart * ((float)distance / length)));
                    weights += weight;
                }

                space[atom] = sum / (float)weights;
            }
        }

        return space;
    }

    private static Vector3 OnSphere(int count, int index)
    {
        double height = 1 - ((2 * (index + 0.5)) / count);
        double radius = Math.Sqrt(1 - (height * height));
        double turn = GoldenAngle * index;
        return new Vector3((float)(radius * Math.Cos(turn)), (float)(radius * Math.Sin(turn)), (float)height);
    }

    private static Complex[] Seen(Vector3[] space, Vector3 from)
    {
        var right = Vector3.Normalize(Vector3.Cross(from, MathF.Abs(from.Z) < 0.9f ? Vector3.UnitZ : Vector3.UnitX));
        var up = Vector3.Cross(right, from);
        return [.. space.Select(point => new Complex(Vector3.Dot(point, right), Vector3.Dot(point, up)))];
    }

    /// <summary>Turned so that the longest way across lies level.</summary>
    private static Complex[] Lying(Complex[] plane)
    {
        Complex middle = plane.Aggregate(Complex.Zero, (sum, point) => sum + point) / plane.Length;
        Complex doubled = plane.Aggregate(Complex.Zero, (sum, point) => sum + ((point - middle) * (point - middle)));
        return [.. plane.Select(point => point * Plane.Step(-doubled.Phase / 2))];
    }

    private static double Confusion(Complex[] plane, (int First, int Second)[] bonds)
    {
        double confusion = 0;
        for (int one = 0; one < plane.Length; one++)
        {
            for (int other = one + 1; other < plane.Length; other++)
            {
                double distance = (plane[one] - plane[other]).Magnitude;
                confusion += distance < 0.9 ? 10 * (0.9 - distance) * (0.9 - distance) : 0;
            }
        }

        double mean = bonds.Average(bond => (plane[bond.First] - plane[bond.Second]).Magnitude);
        foreach ((int first, int second) in bonds)
        {
            double length = (plane[first] - plane[second]).Magnitude / Math.Max(mean, 1e-3);
            confusion += 3 * (length - 1) * (length - 1);
            confusion += Enumerable.Range(0, plane.Length)
                .Where(atom => atom != first && atom != second)
                .Sum(atom => Plane.Distance(plane[atom], plane[first], plane[second]) < 0.25 ? 1 : 0);
        }

        return confusion + (0.5 * Crossings(plane, bonds));
    }

    private static int Crossings(Complex[] plane, (int First, int Second)[] bonds)
    {
        int crossings = 0;
        for (int one = 0; one < bonds.Length; one++)
        {
            for (int other = one + 1; other < bonds.Length; other++)
            {
                (int a, int b) = bonds[one];
                (int c, int d) = bonds[other];
                if (a != c && a != d && b != c && b != d && Plane.Cross(plane[a], plane[b], plane[c], plane[d]))
                {
                    crossings++;
                }
            }
        }

        return crossings;
    }

    /// <summary>Brings bonds nearer to one length and pushes apart what lies close.</summary>
    private static Complex[] Evened(Complex[] plane, (int First, int Second)[] bonds)
    {
        Complex[] places = [.. plane];
        var bonded = bonds.Concat(bonds.Select(bond => (bond.Second, bond.First))).ToImmutableHashSet();
        for (int round = 0; round < Rounds; round++)
        {
            var pull = new Complex[places.Length];
            for (int one = 0; one < places.Length; one++)
            {
                for (int other = one + 1; other < places.Length; other++)
                {
                    Complex apart = places[one] - places[other];
                    double length = Math.Max(apart.Magnitude, 1e-3);
                    double wanted = bonded.Contains((one, other)) ? 1 : Math.Max(length, 0.75);
                    Complex move = 0.2 * (wanted - length) / length * apart;
                    pull[one] += move;
                    pull[other] -= move;
                }
            }

            for (int atom = 0; atom < places.Length; atom++)
            {
                places[atom] += pull[atom];
            }
        }

        return places;
    }
}

/// <summary>The bicyclo[2.2.1] skeleton of camphor and norcamphor, seen from the front, the bridge of one atom above.</summary>
internal static class Norbornane
{
    // Bridgeheads, the bridge of one atom, the two of two atoms: in front (longer, below) and behind.
    private static readonly Complex[] Places =
    [
        new(-1, 0), new(1, 0), new(0, 0.66), new(-0.6, -1.15), new(0.6, -1.15), new(-0.43, -0.64), new(0.43, -0.64),
    ];

    /// <summary>Positions; the bridge with more groups on it stands in front. Missing: null, another skeleton.</summary>
    public static Dictionary<int, Complex>? Of(Molecule molecule, IReadOnlyList<int> atoms)
    {
        int[] Beside(int atom) => [.. molecule.NeighboursOf(atom).Select(next => next.Atom).Where(atoms.Contains)];
        int[] heads = [.. atoms.Where(atom => Beside(atom).Length == 3)];
        if (atoms.Count != 7 || heads.Length != 2 || atoms.Any(atom => Beside(atom).Length > 3))
        {
            return null;
        }

        int[] bridge = [.. Beside(heads[0]).Intersect(Beside(heads[1]))];
        int[][] pairs = [.. Beside(heads[0]).Except(bridge)
            .Select(first => new[] { first, Beside(first).FirstOrDefault(atom => atom != heads[0], -1) })
            .OrderByDescending(pair => pair.Sum(atom => atom < 0 ? 0 : molecule.NeighboursOf(atom).Length))];
        if (bridge.Length != 1 || pairs.Length != 2 || pairs.Any(pair => !Beside(heads[1]).Contains(pair[1])))
        {
            return null;
        }

        int[] order = [heads[0], heads[1], bridge[0], .. pairs[0], .. pairs[1]];
        return order.Select((atom, index) => (atom, index)).ToDictionary(pair => pair.atom, pair => Places[pair.index]);
    }
}
