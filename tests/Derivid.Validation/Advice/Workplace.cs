using Derivid.Core.Compounds;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Advice;

/// <summary>The steps that can be taken on an unknown and what a student sees on taking them.</summary>
/// <param name="table">The table.</param>
public sealed class Workplace(BenchTable table)
{
    /// <summary>Probability at which a student stops.</summary>
    public const double Enough = 0.95;

    /// <summary>Longest that anybody works: two afternoons. Units: min. Chosen.</summary>
    public const double MostMinutes = 360;

    private const double BoilingMinutes = 20;
    private const double MeltingMinutes = 15;

    private static readonly string[] CourseTests = ["tollens", "iodoform", "permanganate"];

    private static readonly string[] CourseKinds =
        [BenchTable.HydrazoneKey, BenchTable.SemicarbazoneKey, "oxime", "4-nitrophenylhydrazone", "phenylhydrazone"];

    /// <summary>Every step: derivatives, spot tests, own constant.</summary>
    /// <remarks>The minutes of the own constant are those of the service, which are no part of the table.</remarks>
    public IReadOnlyList<AdviceStep> Steps { get; } =
    [
        .. table.Table.Kinds
            .OrderBy(kind => kind.Key, StringComparer.Ordinal)
            .Select(kind => new AdviceStep(NextStepKind.Derivative, kind.Key, kind.Minutes, kind.Hazard)),
        .. table.Table.SpotTests
            .OrderBy(test => test.Key, StringComparer.Ordinal)
            .Select(test => new AdviceStep(NextStepKind.SpotTest, test.Key, test.Minutes, test.Hazard, test.QuestionKey)),
        new AdviceStep(NextStepKind.BoilingPoint, null, BoilingMinutes, Hazard.Low),
    ];

    /// <summary>The usual course order, as indices of <see cref="Steps"/>.</summary>
    public int[] CourseOrder() => Order(step =>
        step.Key is null ? 0
        : Place(CourseTests, step.Key) is { } test ? 1 + test
        : Place(CourseKinds, step.Key) is { } kind ? 10 + kind
        : step.Kind == NextStepKind.SpotTest ? 20 : 30);

    /// <summary>Derivatives, then tests, then the own constant, as indices of <see cref="Steps"/>.</summary>
    public int[] DerivativesFirstOrder() => Order(step =>
        step.Key is null ? 30
        : Place(CourseKinds, step.Key) is { } kind ? kind
        : Place(CourseTests, step.Key) is { } test ? 10 + test
        : step.Kind == NextStepKind.SpotTest ? 20 : 40);

    /// <summary>What a student knows before doing anything: a liquid or a solid.</summary>
    public static Observation Start(Student student) =>
        new() { State = student.IsSolid ? PhysicalState.Solid : PhysicalState.Liquid, Prior = new() { IsUniform = true } };

    /// <summary>What is known after a step; one that fails or cannot be taken shows nothing.</summary>
    public static Observation After(Observation seen, AdviceStep step, Student student) =>
        step.Kind switch
        {
            NextStepKind.Derivative => student.Derivatives.TryGetValue(step.Key!, out var reading)
                ? seen with { Derivatives = [.. seen.Derivatives, reading] }
                : seen,
            NextStepKind.SpotTest => student.SpotTests.TryGetValue(step.Key!, out var outcome)
                ? seen with { SpotTests = [.. seen.SpotTests, outcome] }
                : seen,
            _ => student.IsSolid
                ? seen with { MeltingPoint = student.MeltingPoint }
                : seen with { BoilingPoint = student.BoilingPoint is { } boiling ? new BoilingPointReading(boiling) : null },
        };

    /// <summary>Time a step takes on an unknown. Units: min.</summary>
    public static double MinutesOf(AdviceStep step, bool isSolid) =>
        step.Key is null && isSolid ? MeltingMinutes : step.Minutes;

    private static int? Place(string[] keys, string key) => Array.IndexOf(keys, key) is var place and >= 0 ? place : null;

    private int[] Order(Func<AdviceStep, int> rank) => [.. Enumerable.Range(0, Steps.Count).OrderBy(step => rank(Steps[step]))];
}
