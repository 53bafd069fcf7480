using Derivid.Core.Ranking;

namespace Derivid.Core.Teaching.Grading;

/// <summary>Averages what the derivatives of a report earned.</summary>
/// <remarks>
/// Readings are easily made up, so points go only to what can be held against the compound handed out, and to all of that alike:
/// (1) only kinds that the course offers count, all of the table's where it names none: of others anything could be claimed;
/// (2) a range farther than <see cref="Rubric.FarthestCelsius"/> from those listed is not taken for the compound's derivative
/// and earns nothing, however sharp: it could be of anything, or of nothing;
/// (3) a derivative of which nothing is listed for the compound counts neither way, and as many are expected as could be held
/// against the table; where that is none, the points leave what is earned and what could be;
/// (4) who reports only such although another could have been compared earns nothing: were the points left out then, it would be
/// better to look up what nobody lists than to try. What is listed for the compound claimed can be looked up beforehand,
/// and a person may still give the points;
/// (5) of more derivatives than expected all count, not the best: so many made-up ranges earn on average no more than one.
/// Missing ones count nothing.
/// </remarks>
internal static class DerivativeShares
{
    public static GradeLine Line(
        PointsCriterion criterion,
        ReadReport report,
        Rubric rubric,
        string rule,
        Func<BestReading, ListedTemperature?, ShareOfKind?> shareOf,
        string? nothing = null)
    {
        nothing ??= StudentSentences.NoRange();
        var expected = Math.Min(rubric.ExpectedDerivatives, report.ComparableKinds);
        if (expected == 0)
        {
            return new GradeLine(
                criterion.Kind,
                0,
                0,
                $"Of the derivatives that count in this course none has a melting range listed for the compound handed out: these {Criterion.Text(criterion.Points)} points count neither way.",
                TellsIdentity: true)
            {
                ForStudents = StudentSentences.NothingListed(criterion.Points),
            };
        }

        var shares = new List<double>();
        var (words, forStudents) = (new List<string>(), new List<string>());
        foreach (var reading in report.Best)
        {
            var nearest = reading.NearestListed(report.Identity);
            if (shareOf(reading, nearest) is not { } found)
            {
                continue;
            }

            forStudents.Add(found.ForStudents);
            if (nearest is null)
            {
                words.Add($"{reading.Kind.Kind.Name} has nothing listed for the compound handed out and counts neither way");
            }
            else if (reading.AwayFrom(nearest) is var away && away > rubric.FarthestCelsius)
            {
                shares.Add(0);
                words.Add(
                    $"{reading.Kind.Kind.Name} clear at {Criterion.Text(reading.Corrected.ClearPointCelsius)} °C is {Criterion.Text(away)} °C from the {Figure.Range(nearest.LowCelsius, nearest.HighCelsius)} listed for the compound handed out, and more than {Criterion.Text(rubric.FarthestCelsius)} °C is not taken for its derivative (share 0)");
            }
            else
            {
                shares.Add(found.Share);
                words.Add(found.Words);
            }
        }

        var divisor = Math.Max(expected, shares.Count);
        var share = shares.Sum() / divisor;
        var told = words.Count == 0 ? nothing : string.Join("; ", words);
        var missed = words.Count > 0 && shares.Count == 0
            ? " Another derivative of this course is listed for it, so these points could be earned; they can be given by hand."
            : "";
        var fewer = expected < rubric.ExpectedDerivatives
            ? $" Of {Figure.Count(rubric.ExpectedDerivatives, "derivative")} expected {expected} can be held against a range listed."
            : "";
        var average = divisor == 1 ? ""
            : StudentSentences.Averaged(divisor, shares.Count > expected ? "reported" : "expected", share);
        // A rule of all three criteria of ranges is told with the first; where that has no range, the others have none either.
        var first = rubric.Criteria().First(each => each is RangeWidth or RangeDistance or Recrystallisation);
        return criterion.Line(
            share,
            $"{StudentSentences.Held(told, rule)}{missed}{fewer}{average}{report.NotOfferedKinds}",
            rubric,
            tellsIdentity: words.Count > 0 || fewer.Length > 0,
            StudentSentences.Held(forStudents.Count == 0 ? nothing : string.Join("; ", forStudents), rule)
                + (first.Kind == criterion.Kind ? StudentSentences.FarAndUnlisted(rubric.FarthestCelsius, rubric.ExpectedDerivatives) : "") + report.NotOfferedKinds);
    }
}

/// <summary>What one derivative earned and why.</summary>
/// <param name="Share">Bounds: 0 to 1.</param>
/// <param name="Words">What was found, as part of a sentence.</param>
/// <param name="ForStudents">The same without what hangs on the compound handed out.</param>
internal sealed record ShareOfKind(double Share, string Words, string ForStudents);
