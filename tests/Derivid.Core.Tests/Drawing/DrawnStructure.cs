using System.Globalization;
using System.Numerics;
using System.Xml.Linq;
using Derivid.Core.Drawing;
using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Drawing;

/// <summary>A drawing as a reader sees it: taken from the picture's lines and letters, not from the layout.</summary>
internal sealed class DrawnStructure
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    private DrawnStructure(XElement picture)
    {
        Picture = picture;
        Title = picture.Element(Svg + "title")!.Value;
        Bonds = [.. picture.Descendants(Svg + "path").Select(path => new DrawnBond(
            Number(path, "data-bond"),
            Pair(path, "data-atoms").First,
            Pair(path, "data-atoms").Second,
            Number(path, "data-order"),
            Lines((string)path.Attribute("d")!)))];
        Atoms = [.. picture.Descendants(Svg + "g").Where(group => group.Attribute("data-atom") is not null).Select(group =>
            new DrawnAtom(
                Number(group, "data-atom"),
                (string)group.Attribute("data-symbol")!,
                Place((string)group.Attribute("data-place")!),
                string.Concat(group.Descendants(Svg + "tspan").Select(letters => letters.Value)),
                [.. group.Descendants(Svg + "tspan").Select(Box)]))];
    }

    public XElement Picture { get; }

    public string Title { get; }

    public IReadOnlyList<DrawnAtom> Atoms { get; }

    public IReadOnlyList<DrawnBond> Bonds { get; }

    public double MeanLength => Bonds.Average(Length);

    public static DrawnStructure Of(string smiles) =>
        Of(SmilesReader.Read(smiles).Molecule ?? throw new InvalidDataException($"{smiles} is not read."), smiles);

    public static DrawnStructure Of(Molecule molecule, string title) =>
        new(XElement.Parse(StructureDrawing.Svg(molecule, title)));

    public double Length(DrawnBond bond) => (Atoms[bond.First].Place - Atoms[bond.Second].Place).Magnitude;

    /// <summary>The angle at an atom between two others. Units: degrees.</summary>
    public double Angle(int one, int at, int other)
    {
        double turn = ((Atoms[one].Place - Atoms[at].Place) / (Atoms[other].Place - Atoms[at].Place)).Phase;
        return Math.Abs(turn) * 180 / Math.PI;
    }

    /// <summary>What is wrong with the picture, in sentences; none where a chemist could read it back.</summary>
    /// <param name="molecule">What it should show.</param>
    /// <param name="mayCross">Whether bonds may cross: a bridged ring system seen in perspective.</param>
    public IEnumerable<string> Faults(Molecule molecule, bool mayCross) =>
    [
        .. AtomFaults(molecule), .. BondFaults(molecule), .. DistanceFaults(), .. LabelFaults(),
        .. mayCross ? [] : CrossingFaults(),
    ];

    private IEnumerable<string> AtomFaults(Molecule molecule)
    {
        if (!Atoms.Select(atom => atom.Index).SequenceEqual(Enumerable.Range(0, molecule.Atoms.Length)))
        {
            yield return "not every atom is there once";
            yield break;
        }

        foreach (DrawnAtom atom in Atoms)
        {
            Atom shown = molecule.Atoms[atom.Index];
            string count = shown.Hydrogens > 1 ? shown.Hydrogens.ToString(CultureInfo.InvariantCulture) : "";
            string hydrogens = shown.Hydrogens > 0 ? "H" + count : "";
            string charge = shown.Charge switch { 0 => "", 1 => "+", -1 => "−", > 0 => $"{shown.Charge}+", _ => $"{-shown.Charge}−" };
            string mass = shown.Isotope?.ToString(CultureInfo.InvariantCulture) ?? "";
            string[] right = shown is { Symbol: "C", Charge: 0, Isotope: null }
                ? ["", "C" + hydrogens, hydrogens + "C"]
                : [mass + shown.Symbol + hydrogens + charge, mass + hydrogens + shown.Symbol + charge];
            if (atom.Symbol != shown.Symbol || !right.Contains(atom.Label))
            {
                yield return $"atom {atom.Index} reads {atom.Label} for {right[^1]}";
            }
        }
    }

    private IEnumerable<string> BondFaults(Molecule molecule)
    {
        var wanted = molecule.Bonds.Select((bond, index) => (index, bond.First, bond.Second, bond.Order));
        if (!Bonds.Select(bond => (bond.Index, bond.First, bond.Second, bond.Order)).SequenceEqual(wanted))
        {
            yield return "not every bond is there once";
        }

        foreach (DrawnBond bond in Bonds)
        {
            (Complex first, Complex second) = (Atoms[bond.First].Place, Atoms[bond.Second].Place);
            if (bond.Lines.Count != bond.Order)
            {
                yield return $"bond {bond.Index} has {bond.Lines.Count} lines for order {bond.Order}";
            }

            foreach ((Complex from, Complex to) in bond.Lines)
            {
                if (Away(from, first, second) > 7 || Away(to, first, second) > 7
                    || (from - first).Magnitude > (from - second).Magnitude
                    || (to - second).Magnitude > (to - first).Magnitude
                    || (to - from).Magnitude < 0.2 * (second - first).Magnitude)
                {
                    yield return $"a line of bond {bond.Index} does not run between its atoms";
                }
            }

            if (Math.Abs(Length(bond) - MeanLength) > 0.2 * MeanLength)
            {
                yield return FormattableString.Invariant($"bond {bond.Index} is {Length(bond) / MeanLength:0.00} of the mean");
            }
        }
    }

    private IEnumerable<string> DistanceFaults() =>
        from one in Atoms
        from other in Atoms.Skip(one.Index + 1)
        where (one.Place - other.Place).Magnitude < 0.5 * (Bonds.Count > 0 ? MeanLength : 30)
        select $"atoms {one.Index} and {other.Index} are too near";

    private IEnumerable<string> LabelFaults()
    {
        foreach (DrawnAtom atom in Atoms.Where(atom => atom.Label.Length > 0))
        {
            foreach (DrawnAtom other in Atoms.Where(other => other != atom))
            {
                bool covered = atom.Letters.Any(box => box.Holds(other.Place))
                    || (other.Index > atom.Index && atom.Letters.Any(box => other.Letters.Any(box.Meets)));
                if (covered)
                {
                    yield return $"the label of atom {atom.Index} lies on atom {other.Index}";
                }
            }

            foreach (DrawnBond bond in Bonds)
            {
                if (bond.Lines.Any(line => atom.Letters.Any(box => box.IsCrossedBy(line.From, line.To))))
                {
                    yield return $"bond {bond.Index} runs through the label of atom {atom.Index}";
                }
            }
        }
    }

    private IEnumerable<string> CrossingFaults() =>
        from one in Bonds
        from other in Bonds.Skip(one.Index + 1)
        where one.First != other.First && one.First != other.Second && one.Second != other.First && one.Second != other.Second
        where Crosses(Atoms[one.First].Place, Atoms[one.Second].Place, Atoms[other.First].Place, Atoms[other.Second].Place)
        select $"bonds {one.Index} and {other.Index} cross";

    private static bool Crosses(Complex a, Complex b, Complex c, Complex d) =>
        Side(a, b, c) * Side(a, b, d) < 0 && Side(c, d, a) * Side(c, d, b) < 0;

    private static double Side(Complex from, Complex to, Complex point) =>
        (Complex.Conjugate(to - from) * (point - from)).Imaginary;

    private static double Away(Complex point, Complex from, Complex to) =>
        Math.Abs(Side(from, to, point)) / (to - from).Magnitude;

    private static int Number(XElement element, string name) =>
        int.Parse((string)element.Attribute(name)!, CultureInfo.InvariantCulture);

    private static (int First, int Second) Pair(XElement element, string name)
    {
        int[] both = [.. ((string)element.Attribute(name)!).Split(' ').Select(text => int.Parse(text, CultureInfo.InvariantCulture))];
        return (both[0], both[1]);
    }

    private static Complex Place(string text)
    {
        double[] both = [.. text.Split(' ').Select(number => double.Parse(number, CultureInfo.InvariantCulture))];
        return new Complex(both[0], both[1]);
    }

    private static IReadOnlyList<(Complex From, Complex To)> Lines(string path) =>
        [.. path.Split('M', StringSplitOptions.RemoveEmptyEntries).Select(line => line.Split('L'))
            .Select(ends => (Place(ends[0].Trim()), Place(ends[1].Trim())))];

    // 15 units high letters, as the drawing has them; 0.7 of an em wide, a fair mean of capitals.
    private static LetterBox Box(XElement letters)
    {
        double size = double.Parse((string?)letters.Attribute("font-size") ?? "15", CultureInfo.InvariantCulture);
        double x = double.Parse((string)letters.Attribute("x")!, CultureInfo.InvariantCulture);
        double y = double.Parse((string)letters.Attribute("y")!, CultureInfo.InvariantCulture);
        double width = 0.65 * size * letters.Value.Length;
        double left = (string?)letters.Attribute("text-anchor") == "middle" ? x - (width / 2) : x;
        return new LetterBox(left, y - (0.72 * size), left + width, y);
    }
}

/// <summary>An atom of a picture.</summary>
internal sealed record DrawnAtom(int Index, string Symbol, Complex Place, string Label, IReadOnlyList<LetterBox> Letters);

/// <summary>A bond of a picture.</summary>
internal sealed record DrawnBond(int Index, int First, int Second, int Order, IReadOnlyList<(Complex From, Complex To)> Lines);

/// <summary>About what some letters cover; y down.</summary>
internal readonly record struct LetterBox(double Left, double Top, double Right, double Bottom)
{
    public bool Holds(Complex point) =>
        point.Real > Left && point.Real < Right && point.Imaginary > Top && point.Imaginary < Bottom;

    public bool Meets(LetterBox other) =>
        Left < other.Right && other.Left < Right && Top < other.Bottom && other.Top < Bottom;

    public bool IsCrossedBy(Complex from, Complex to)
    {
        for (int step = 0; step <= 20; step++)
        {
            if (Holds(from + ((to - from) * step / 20)))
            {
                return true;
            }
        }

        return false;
    }
}
