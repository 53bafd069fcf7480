using System.Text.Json;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Teaching.Grading;

namespace Derivid.Page.Teaching;

/// <summary>Rubrics as they are told of.</summary>
public static class RubricWords
{
    /// <summary>What the rubric of a grading is called.</summary>
    /// <param name="grading">The grading.</param>
    public static string NameOf(GradingStatus grading)
    {
        ArgumentNullException.ThrowIfNull(grading);
        return grading.Rubric.GetProperty("name").GetString() ?? "";
    }

    /// <summary>What earns points in a course and what takes them, for its students.</summary>
    /// <param name="course">The course.</param>
    /// <returns>What for, how many points, and how they are earned. Shape: in the order of the rubric. Missing: empty, the course doesn't say.</returns>
    public static IReadOnlyList<(string What, string Points, string How)> WhatCounts(CourseItem course)
    {
        ArgumentNullException.ThrowIfNull(course);
        return course.Rubric?.Deserialize<Rubric>(WireJson.WithDefaults) is { } rubric
            ? [.. rubric.Criteria().Where(criterion => CanApply(criterion, course)).Select(criterion => Of(criterion, rubric)).OfType<(string, string, string)>()]
            : [];
    }

    private static bool CanApply(Criterion criterion, CourseItem course) => criterion switch
    {
        AttemptsDeduction attempts => course.MostAttempts > attempts.FreeAttempts,
        LatenessDeduction => course.DueAt is not null,
        _ => true,
    };

    private static (string What, string Points, string How)? Of(Criterion criterion, Rubric rubric) => criterion switch
    {
        RightCompound right => ("The compound", UpTo(right), "Name what you were given."
            + (right.GroupShare > 0 ? $" {Percent(right.GroupShare)} for another one that your own readings cannot tell from it." : "")),
        RightClass right => ("Its class", UpTo(right), "Name a compound of the same class, aldehyde or ketone, with the same at its carbonyl group: an aromatic ring, a C=C, or neither."
            + (right.UnreasonedShare < 1 ? $" If it is another compound, report a spot test that tells the class; without one it earns {Percent(right.UnreasonedShare)}." : "")),
        SupportedClaim claim => ("Your evidence", UpTo(claim), "Report ranges and tests that make the compound you name the likeliest."),
        RangeWidth width => ("Sharp ranges", UpTo(width), $"A range of {Degrees(width.FullSpanCelsius)} or less earns all, one of {Degrees(width.ZeroSpanCelsius)} or more nothing.{Derivatives(rubric)}"),
        RangeDistance distance => ("Ranges as listed", UpTo(distance), $"Within {Degrees(distance.FullCelsius)} of the range listed for what you were given earns all, {Degrees(distance.ZeroCelsius)} away or more nothing.{Derivatives(rubric)}"),
        Recrystallisation better => ("Recrystallising", UpTo(better), $"Report two ranges of the same derivative, crude and recrystallised.{Derivatives(rubric)}"),
        TestsFitClaim fit => ("Tests and your claim", UpTo(fit), $"Report spot tests that fit the compound you name.{Tests(rubric)}"),
        TestsFitCompound fit => ("Tests and the compound", UpTo(fit), $"Report spot tests that fit what you were given.{Tests(rubric)}"),
        WrittenReasoning reasoning => ("Your reasoning", $"up to {Figure.Text((double)reasoning.Points, 2)}", "Write how it follows from what you saw; it is marked by hand."),
        AttemptsDeduction attempts => ("Further reports", $"−{Figure.Text((double)attempts.PointsPerAttempt, 2)} each",
            $"{(attempts.FreeAttempts == 1 ? "The first report" : $"The first {attempts.FreeAttempts} reports")} on an unknown {(attempts.FreeAttempts == 1 ? "takes" : "take")} no points, each one after takes these, {Figure.Text((double)attempts.MostPoints, 2)} in all at most."),
        LatenessDeduction late => ("Lateness", $"−{Figure.Text((double)late.PointsPerDay, 2)} a day",
            $"Each day begun{(late.GraceHours > 0 ? $", {Figure.Text(late.GraceHours, 2)} hours after your report is due," : " after your report is due")} takes these, {Figure.Text((double)late.MostPoints, 2)} in all at most."),
        _ => null,
    };

    private static string UpTo(PointsCriterion criterion) => $"up to {Figure.Text((double)criterion.Points, 2)}";

    private static string Derivatives(Rubric rubric) => rubric.ExpectedDerivatives == 1 ? "" : $" {rubric.ExpectedDerivatives} derivatives are expected.";

    private static string Tests(Rubric rubric) => rubric.ExpectedTests == 1 ? " One is expected." : $" {rubric.ExpectedTests} are expected.";

    private static string Percent(double share) => $"{Figure.Text(100 * share, 2)} %";

    private static string Degrees(double celsius) => $"{Figure.Degrees(celsius)} °C";
}
