using System.ComponentModel.DataAnnotations;
using Derivid.Core.Observations;

namespace Derivid.Contracts;

/// <summary>What the table can learn from classes just now. It tells of no student, no course and no unknown that is open.</summary>
/// <param name="TableVersion">Version of the table it is held against.</param>
/// <param name="ModelVersion">Version of the model.</param>
/// <param name="Courses">
/// Courses that opted in, whose grades were published before <paramref name="OpenSince"/>, and whose figures are told below. Figures of one course
/// alone are told of none: each rests on an even number of courses, and on five students at least in each.
/// </param>
/// <param name="Waiting">
/// Courses more that opted in and are published: they wait for grades on unknowns that were open before theirs were published, or for another course that saw the same of
/// the same compound; or their reports fit no label, or lie nearer to what is printed than can be read.
/// </param>
/// <param name="OpenSince">
/// The day (UTC) on which the first of all unknowns that are open now was handed out, in whatever course, and no finer, since it may be
/// somebody else's: what was published later waits. Missing: none is open.
/// </param>
/// <param name="Changes">Records that a proposal would change.</param>
/// <param name="SpotTests">Rates. Shape: by test, then place in the order of its rows.</param>
/// <param name="Colours">Colours of derivatives. Shape: by kind, then place in the order of its classes.</param>
/// <param name="Measured">Melting ranges. Shape: by compound, then kind.</param>
public sealed record LearningItem(
    int TableVersion,
    string ModelVersion,
    int Courses,
    int Waiting,
    DateOnly? OpenSince,
    int Changes,
    IReadOnlyList<LearnedRateItem> SpotTests,
    IReadOnlyList<LearnedColourItem> Colours,
    IReadOnlyList<MeasuredItem> Measured);

/// <summary>How often a spot test is positive, as classes saw it.</summary>
/// <param name="TestKey">The test.</param>
/// <param name="AppliesTo">For which class of compounds, as the table writes it.</param>
/// <param name="Reports">Clear outcomes that were counted.</param>
/// <param name="Compounds">Of how many compounds.</param>
/// <param name="Assumed">The rate expected so far of what is written down, turned samples in it. Bounds: 0 to 1.</param>
/// <param name="Learned">The rate learned.</param>
/// <param name="Low">Lower end of the interval that holds it nine times of ten.</param>
/// <param name="High">Upper end.</param>
public sealed record LearnedRateItem(
    string TestKey, string AppliesTo, int Reports, int Compounds, double Assumed, double Learned, double Low, double High);

/// <summary>Which colours the crystals of a class of compounds have, as classes called them.</summary>
/// <param name="KindKey">The kind of derivative.</param>
/// <param name="StructureClass">The class, as the table writes it.</param>
/// <param name="Calls">Colours called that were counted.</param>
/// <param name="Compounds">Of how many compounds.</param>
/// <param name="Assumed">How often each colour is expected so far. Shape: by rank, summing to 1.</param>
/// <param name="Learned">How often by what was learned. Shape: the same.</param>
public sealed record LearnedColourItem(
    string KindKey, string StructureClass, int Calls, int Compounds, IReadOnlyList<double> Assumed, IReadOnlyList<double> Learned);

/// <summary>Where classes saw a derivative melt.</summary>
/// <param name="ParentKey">The compound.</param>
/// <param name="KindKey">The kind of derivative.</param>
/// <param name="Preparation">What was done to the crystals.</param>
/// <param name="IsCalibrated">Whether the thermometers had been checked.</param>
/// <param name="Readings">How many were counted.</param>
/// <param name="Courses">Of how many courses.</param>
/// <param name="MeanCelsius">Mean clear point. Units: °C.</param>
/// <param name="SpreadCelsius">Standard deviation of the readings. Units: °C, a difference.</param>
/// <param name="IsProposed">Whether a proposal would have it: of recrystallised crystals and calibrated thermometers only.</param>
public sealed record MeasuredItem(
    string ParentKey,
    string KindKey,
    Preparation Preparation,
    bool IsCalibrated,
    int Readings,
    int Courses,
    double MeanCelsius,
    double SpreadCelsius,
    bool IsProposed);

/// <summary>A proposal of what was learned from classes.</summary>
public sealed record LearningRequest
{
    /// <summary>What it is about, in a line. Missing: said by what was learned.</summary>
    [StringLength(ProposalRequest.LongestTitle)]
    public string? Title { get; init; }

    /// <summary>Why, for whoever reviews it. Missing: said by what was learned.</summary>
    [StringLength(ProposalRequest.LongestReason)]
    public string? Reason { get; init; }
}
