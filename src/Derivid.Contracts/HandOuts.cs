using System.ComponentModel.DataAnnotations;
using Derivid.Core.Observations;
using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Contracts;

/// <summary>What can be told apart on the shelf of a course.</summary>
/// <param name="TableVersion">Version of the reference table it was worked out on.</param>
/// <param name="Items">Every compound of the shelf, by key.</param>
public sealed record ShelfCheck(int TableVersion, IReadOnlyList<ShelfItem> Items);

/// <summary>Whether one compound of the shelf can be told from the others with what the laboratory offers.</summary>
/// <param name="Parent">The compound.</param>
/// <param name="IsIdentifiable">Whether ideal readings give it the probability asked for.</param>
/// <param name="Posterior">Its probability among the shelf when every reading is ideal.</param>
/// <param name="Difficulty">One less its mean probability when all readings are off by a few °C: 0 is easy, 1 hopeless.</param>
/// <param name="ConfusedWith">Others that ideal readings leave a probability of 0.05 or more.</param>
/// <param name="SettledBy">Derivatives and tests the laboratory lacks that would settle it, each by itself.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record ShelfItem(
    string Parent,
    bool IsIdentifiable,
    double Posterior,
    double Difficulty,
    IReadOnlyList<string> ConfusedWith,
    IReadOnlyList<string> SettledBy,
    string Sentence);

/// <summary>How unknowns are to be handed out.</summary>
public sealed record HandOutRequest
{
    /// <summary>
    /// A text from which, with the same roster, shelf, rules and table version, the same hand-out is drawn again in this course;
    /// it tells nothing without the course's secret, which the service keeps. Missing: one is made, and given back.
    /// </summary>
    [StringLength(HandOutSeed.LongestText, MinimumLength = 1)]
    public string? Seed { get; init; }

    /// <summary>Unknowns each student gets, all different. Missing: 1.</summary>
    [Range(1, HandOutRules.MostUnknownsPerStudent)]
    public int? UnknownsPerStudent { get; init; }

    /// <summary>Least probability that ideal readings must give the compound among the shelf. Missing: 0.8.</summary>
    [Range(0.0, 1.0)]
    public double? LeastPosterior { get; init; }

    /// <summary>Compounds harder than this are left out: 0 is easy, 1 hopeless. Missing: 1.</summary>
    [Range(0.0, 1.0)]
    public double? LargestDifficulty { get; init; }

    /// <summary>Whether compounds that cannot be identified are handed out all the same, flagged. Missing: no.</summary>
    public bool? HandsOutUnidentifiable { get; init; }
}

/// <summary>A hand-out of unknowns. As secret as the identities.</summary>
/// <param name="Number">First, second ... hand-out of the course, from 1.</param>
/// <param name="Seed">The text it was drawn from, together with a secret of the service.</param>
/// <param name="TableVersion">Version of the reference table it was made on.</param>
/// <param name="ModelVersion">Version of the ranking model it was made with.</param>
/// <param name="HandedOutAt">When (RFC 3339, UTC).</param>
/// <param name="Summary">Rules, and what came of them.</param>
public sealed record HandOutItem(
    int Number, string Seed, int TableVersion, string ModelVersion, DateTime HandedOutAt, HandOutSummary Summary);

/// <summary>Rules of a hand-out, and what came of them.</summary>
public sealed record HandOutSummary
{
    /// <summary>Unknowns each student got.</summary>
    public required int UnknownsPerStudent { get; init; }

    /// <summary>Least probability that ideal readings had to give.</summary>
    public required double LeastPosterior { get; init; }

    /// <summary>Largest difficulty handed out.</summary>
    public required double LargestDifficulty { get; init; }

    /// <summary>Whether compounds that cannot be identified were handed out all the same.</summary>
    public required bool HandsOutUnidentifiable { get; init; }

    /// <summary>Unknowns by compound.</summary>
    public required IReadOnlyDictionary<string, int> Uses { get; init; }

    /// <summary>Compounds of the shelf kept out by the rules.</summary>
    public required IReadOnlyList<string> LeftOut { get; init; }

    /// <summary>Sum of the difficulties of the student with the easiest unknowns.</summary>
    public required double EasiestTotal { get; init; }

    /// <summary>Sum of the difficulties of the student with the hardest unknowns.</summary>
    public required double HardestTotal { get; init; }

    /// <summary>What an instructor should know: compounds left out or flagged, uses that could not be evened.</summary>
    public required IReadOnlyList<string> Remarks { get; init; }

    /// <summary>Every compound of the shelf.</summary>
    public required IReadOnlyList<ShelfItem> Shelf { get; init; }
}

/// <summary>An unknown handed out to a student; each member of a group has it, with one code.</summary>
/// <param name="Code">The code on its label.</param>
/// <param name="Student">The student.</param>
/// <param name="Number">First, second ... unknown of the student, from 1.</param>
/// <param name="Parent">What is inside. Missing: not asked for.</param>
public sealed record AssignmentItem(string Code, string Student, int Number, string? Parent)
{
    /// <summary>The group that shares it, as it was called when unknowns were handed out. Missing: the student has it alone.</summary>
    public string? Group { get; init; }
}

/// <summary>What to fill into which vials, compound by compound. As secret as the identities.</summary>
/// <param name="HandOut">The hand-out, from 1.</param>
/// <param name="Items">The compounds handed out, by name.</param>
public sealed record FillingList(int HandOut, IReadOnlyList<FillingItem> Items);

/// <summary>The vials of one compound.</summary>
/// <param name="Parent">The compound, by key.</param>
/// <param name="Name">Its name.</param>
/// <param name="Hazards">The table's caution for it. Missing: it has none.</param>
/// <param name="State">Whether it is a liquid or a solid at 20 °C, by the melting points listed. Missing: none is listed.</param>
/// <param name="Vials">How many vials.</param>
/// <param name="Millilitres">Volume for all of them. Missing: it is a solid, or the volume of one was not told.</param>
/// <param name="Milligrams">Mass for all of them. Missing: it is a liquid, or the mass of one was not told.</param>
/// <param name="Benches">Where they go, by bench; those without a fixed place first.</param>
public sealed record FillingItem(
    string Parent,
    string Name,
    string? Hazards,
    PhysicalState? State,
    int Vials,
    double? Millilitres,
    double? Milligrams,
    IReadOnlyList<FillingBench> Benches);

/// <summary>The vials of one compound that go to one bench.</summary>
/// <param name="Bench">The bench. Missing: no fixed place.</param>
/// <param name="Codes">The codes on their labels, in order of the places, then of the students.</param>
public sealed record FillingBench(string? Bench, IReadOnlyList<string> Codes);

/// <summary>What a filling list can be asked.</summary>
public sealed record FillingQuery
{
    /// <summary>Volume of one vial of a liquid. Units: mL. Missing: no volumes are told.</summary>
    [Range(0.01, 1000.0)]
    public double? VialMillilitres { get; init; }

    /// <summary>Mass in one vial of a solid. Units: mg. Missing: no masses are told.</summary>
    [Range(0.1, 1_000_000.0)]
    public double? VialMilligrams { get; init; }
}

/// <summary>What a check of the shelf can be asked.</summary>
public sealed record ShelfQuery
{
    /// <summary>Least probability that makes a compound identifiable. Missing: 0.8.</summary>
    [Range(0.0, 1.0)]
    public double? LeastPosterior { get; init; }
}

/// <summary>What the list of unknowns handed out can be asked.</summary>
public sealed record AssignmentQuery : PageQuery
{
    /// <summary>Whether to tell what is inside: for graders and further up only. Missing: no.</summary>
    public bool? Identities { get; init; }
}
