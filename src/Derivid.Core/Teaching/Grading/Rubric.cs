using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Reflection;

namespace Derivid.Core.Teaching.Grading;

/// <summary>
/// The marking rules of a course. A criterion left out is not marked. Every share, slope and deduction is a figure here, so a
/// mark can be worked out by hand from report, rubric and table.
/// </summary>
/// <remarks>
/// Bounds and lengths stand as attributes at the properties; the published schema is made of them, of the defaults and of the
/// summaries. Equality: by value. Thread safety: immutable.
/// </remarks>
public sealed record Rubric
{
    /// <summary>Most points one criterion can give.</summary>
    public const int MostPoints = 1000;

    /// <summary>Longest name. Units: characters.</summary>
    public const int LongestName = 100;

    /// <summary>
    /// The rubric of a course that brings none: 34 points and every criterion that is worked out. Its points are chosen, 14 for the claim and
    /// 20 for the work behind it; a course that weighs them otherwise brings its own.
    /// </summary>
    public static Rubric Usual { get; } = new()
    {
        Name = "Usual",
        RightCompound = new RightCompound { Points = 10 },
        RightClass = new RightClass { Points = 4 },
        SupportedClaim = new SupportedClaim { Points = 6 },
        RangeWidth = new RangeWidth { Points = 4 },
        RangeDistance = new RangeDistance { Points = 4 },
        Recrystallisation = new Recrystallisation { Points = 2 },
        TestsFitClaim = new TestsFitClaim { Points = 2 },
        TestsFitCompound = new TestsFitCompound { Points = 2 },
        Attempts = new AttemptsDeduction { PointsPerAttempt = 2, MostPoints = 6 },
        Lateness = new LatenessDeduction { PointsPerDay = 3, MostPoints = 12 },
    };

    /// <summary>The name shown and kept with every grade.</summary>
    [StringLength(LongestName, MinimumLength = 1)]
    public required string Name { get; init; }

    /// <summary>Points are rounded to a multiple of this, halves up.</summary>
    [Range(0.01, 10)]
    public decimal PointStep { get; init; } = 0.5m;

    /// <summary>
    /// Derivatives a report is expected to have, as far as so many have a range listed for the compound handed out. The shares of
    /// all its derivatives are averaged, missing ones counting nothing.
    /// </summary>
    [Range(1, 5)]
    public int ExpectedDerivatives { get; init; } = 1;

    /// <summary>
    /// Farthest that a corrected clear point may lie from a range listed for the compound handed out and still be taken for its
    /// derivative; one farther away earns nothing, however sharp. The default is where distance earns nothing either. Units: °C, a difference.
    /// </summary>
    [Range(1.0, 500.0)]
    public double FarthestCelsius { get; init; } = 10;

    /// <summary>Spot tests a report is expected to have, as far as the course offers so many; missing ones count nothing.</summary>
    [Range(1, 20)]
    public int ExpectedTests { get; init; } = 2;

    /// <summary>Points for the compound. Missing: null, not marked.</summary>
    public RightCompound? RightCompound { get; init; }

    /// <summary>Points for the class. Missing: null, not marked.</summary>
    public RightClass? RightClass { get; init; }

    /// <summary>Points for a claim that the evidence bears out. Missing: null, not marked.</summary>
    public SupportedClaim? SupportedClaim { get; init; }

    /// <summary>Points for sharp ranges. Missing: null, not marked.</summary>
    public RangeWidth? RangeWidth { get; init; }

    /// <summary>Points for ranges near the literature. Missing: null, not marked.</summary>
    public RangeDistance? RangeDistance { get; init; }

    /// <summary>Points for recrystallising. Missing: null, not marked.</summary>
    public Recrystallisation? Recrystallisation { get; init; }

    /// <summary>Points for tests that fit the claim. Missing: null, not marked.</summary>
    public TestsFitClaim? TestsFitClaim { get; init; }

    /// <summary>Points for tests that fit the compound. Missing: null, not marked.</summary>
    public TestsFitCompound? TestsFitCompound { get; init; }

    /// <summary>Most points for the written reasoning, which is marked by hand. Missing: null, not marked.</summary>
    public WrittenReasoning? WrittenReasoning { get; init; }

    /// <summary>Points taken for attempts. Missing: null, none are.</summary>
    public AttemptsDeduction? Attempts { get; init; }

    /// <summary>Points taken for lateness. Missing: null, none are.</summary>
    public LatenessDeduction? Lateness { get; init; }

    /// <summary>The criteria that are marked. Shape: in the order of <see cref="CriterionKind"/>.</summary>
    public IEnumerable<Criterion> Criteria() =>
        new Criterion?[]
        {
            RightCompound, RightClass, SupportedClaim, RangeWidth, RangeDistance, Recrystallisation, TestsFitClaim,
            TestsFitCompound, WrittenReasoning, Attempts, Lateness,
        }.OfType<Criterion>();

    /// <summary>What is wrong with the rubric. Shape: empty where it can be used.</summary>
    public IReadOnlyList<RubricFault> Faults()
    {
        var faults = new List<RubricFault>();
        if (Name is not { Length: > 0 and <= LongestName })
        {
            faults.Add(new RubricFault(null, nameof(Name), $"A rubric has a name of 1 to {LongestName} characters."));
        }

        faults.AddRange(RubricFault.OutOfBounds(this, null));
        if (!Criteria().OfType<PointsCriterion>().Any())
        {
            faults.Add(new RubricFault(null, nameof(Criteria), "A rubric marks at least one criterion that gives points."));
        }

        return [.. faults, .. Criteria().SelectMany(criterion => criterion.Faults())];
    }
}

/// <summary>A figure of a rubric that is out of bounds.</summary>
/// <param name="Criterion">The criterion it belongs to. Missing: null, the rubric itself.</param>
/// <param name="Field">The figure, by the name of its property.</param>
/// <param name="Sentence">The value and what is allowed.</param>
public sealed record RubricFault(CriterionKind? Criterion, string Field, string Sentence)
{
    /// <summary>The figures outside the bounds that their properties state. Shape: points first, as criteria inherit them.</summary>
    internal static IEnumerable<RubricFault> OutOfBounds(object rules, CriterionKind? criterion) =>
        from property in rules.GetType().GetProperties()
        let bounds = property.GetCustomAttribute<RangeAttribute>()
        where bounds is not null
        orderby property.DeclaringType == rules.GetType()
        let value = property.GetValue(rules)
        where !bounds.IsValid(value)
        select new RubricFault(criterion, property.Name, string.Create(
            CultureInfo.InvariantCulture, $"{value} must lie from {bounds.Minimum} to {bounds.Maximum}."));
}
