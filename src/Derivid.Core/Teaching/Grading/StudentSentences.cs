namespace Derivid.Core.Teaching.Grading;

/// <summary>
/// Every sentence of grades and feedback that a student can come to read, in one place: whoever words them, or reads them through
/// before a class does, needs no other file. What only graders read stands with its criterion.
/// </summary>
/// <remarks>
/// None tells more of what was handed out than the points beside it do: they are made of what the student reported, of the rubric,
/// and of those points. What is said of a criterion ends with its points, so that they can be added up. Each
/// has an example in <see cref="Examples"/>, of made-up figures; a test prints them all and finds one that is missing.
/// </remarks>
public static class StudentSentences
{
    /// <summary>An example of every sentence. Shape: by the name of its method, in the order of this file.</summary>
    public static IReadOnlyList<(string Name, string Example)> Examples { get; } =
    [
        (nameof(Of), Of(new GradeLine(CriterionKind.RightCompound, 0, 10, "", TellsIdentity: true))),
        (nameof(Of), Of(new GradeLine(CriterionKind.RightClass, 2, 4, "", TellsIdentity: true))),
        (nameof(Of), Of(new GradeLine(CriterionKind.TestsFitCompound, 1, 2, "", TellsIdentity: true))),
        (nameof(WithPoints), WithPoints(NoCompoundClaimed(), 0, 10)),
        (nameof(Named), Named("butanone", 10, 5, 10)),
        (nameof(Named), Named("butanone", 5, 5, 10)),
        (nameof(Named), Named("butanone", 0, 5, 10)),
        (nameof(Named), Named("butanone", 10, 10, 10)),
        (nameof(ClassNamed), ClassNamed(4, 2, 2, 4)),
        (nameof(ClassNamed), ClassNamed(2, 2, 2, 4)),
        (nameof(ClassNamed), ClassNamed(0, 2, 2, 4)),
        (nameof(NoCompoundClaimed), NoCompoundClaimed()),
        (nameof(NothingClaimed), NothingClaimed()),
        (nameof(ClassWithReasons), ClassWithReasons(0.5, ["Tollens test", "iodoform test"])),
        (nameof(ClassWithReasons), ClassWithReasons(0.5, [])),
        (nameof(NoEvidence), NoEvidence()),
        (nameof(ClaimOnEvidence), ClaimOnEvidence("", "butanone", 1, 0.91, EarnsAll(0.8), 1)),
        (nameof(EarnsAll), EarnsAll(0.8)),
        (nameof(LeadsAlone), LeadsAlone(0.8)),
        (nameof(LeadsInSet), LeadsInSet(3)),
        (nameof(RunsUp), RunsUp(3, 0.05)),
        (nameof(FallsBehind), FallsBehind(3, 0.05)),
        (nameof(EarnsInSet), EarnsInSet(4, 0.75)),
        (nameof(EarnsBehind), EarnsBehind(3, 0.05, 0.4)),
        (nameof(EvidenceBearsOut), EvidenceBearsOut("butanone", EarnsAll(0.8), [EarnsInSet(4, 0.75), EarnsBehind(3, 0.05, 0.4)], 10)),
        (nameof(NothingListed), NothingListed(4)),
        (nameof(Held), Held(WidthFound("semicarbazone", 3, 0.75), WidthRule(2, 6))),
        (nameof(NoRange), NoRange()),
        (nameof(NoneRecrystallised), NoneRecrystallised()),
        (nameof(WidthRule), WidthRule(2, 6)),
        (nameof(WidthFound), WidthFound("semicarbazone", 0, 0.5)),
        (nameof(DistanceRule), DistanceRule(2, 10)),
        (nameof(ClearPoint), ClearPoint("semicarbazone", 186.5, isCorrected: true)),
        (nameof(RecrystallisationRule), RecrystallisationRule(2, 1)),
        (nameof(Recrystallised), Recrystallised("semicarbazone", "180–186 °C", "185–187 °C", 1)),
        (nameof(Averaged), Averaged(2, "expected", 0.5)),
        (nameof(FarAndUnlisted), FarAndUnlisted(10, 2)),
        (nameof(NotOffered), NotOffered("derivative", "semicarbazone")),
        (nameof(NoTest), NoTest()),
        (nameof(TestFound), TestFound("iodoform test", "positive", "either outcome", "butanone", 1)),
        (nameof(TestsCounted), TestsCounted(NoTest(), 0, 2, 2)),
        (nameof(TestsCompared), TestsCompared(3, 2, 0.5)),
        (nameof(MarkedByHand), MarkedByHand(4, 5)),
        (nameof(NotMarkedYet), NotMarkedYet(5)),
        (nameof(GivenByHand), GivenByHand(5, 0, 10, "The thermometer stuck; I saw it.", WithPoints(NoCompoundClaimed(), 0, 10))),
        (nameof(AttemptsTaken), AttemptsTaken(3, 1, 2, 2, 6, -4)),
        (nameof(AttemptsTaken), AttemptsTaken(1, 1, 0, 2, 6, 0)),
        (nameof(InTime), InTime()),
        (nameof(Late), Late(25.5, 0)),
        (nameof(LatenessTaken), LatenessTaken(Late(25.5, 0), 2, 3, 12, -6)),
        (nameof(LatenessTaken), LatenessTaken(InTime(), 0, 3, 12, 0)),
        (nameof(NotGraded), NotGraded()),
        (nameof(NoUnknown), NoUnknown()),
        (nameof(ForPractice), ForPractice()),
        (nameof(NothingHandedIn), NothingHandedIn(Unknown(1, "FXVF-JTVM"), countsZero: true)),
        (nameof(NothingHandedIn), NothingHandedIn(Unknown(1, "FXVF-JTVM"), countsZero: false)),
        (nameof(NotInGrading), NotInGrading(Unknown(1, "FXVF-JTVM"))),
        (nameof(NotGradedYet), NotGradedYet(Unknown(1, "FXVF-JTVM"), null)),
        (nameof(Unknown), Unknown(1, "FXVF-JTVM")),
        (nameof(Graded), Graded(Unknown(1, "FXVF-JTVM"), 2, isBest: true, 17.5, 34, WithPoints(NothingClaimed(), 0, 4))),
    ];

    /// <summary>What a student reads of a line: its own sentence, or, where that gives something away, one that doesn't.</summary>
    /// <param name="line">The line.</param>
    public static string Of(GradeLine line)
    {
        ArgumentNullException.ThrowIfNull(line);
        return !line.TellsIdentity ? line.Sentence : line.ForStudents ?? WithPoints(
            line.Criterion switch
            {
                CriterionKind.RightCompound => "The compound you named was compared with the one handed out.",
                CriterionKind.RightClass => "The class of the compound you named was compared with that of the one handed out.",
                CriterionKind.RangeDistance => "Your melting ranges were compared with those listed for the compound handed out.",
                CriterionKind.TestsFitCompound => "Your tests were compared with what is expected of the compound handed out.",
                _ => "This is for this part of the report.",
            },
            line.Points,
            line.Maximum);
    }

    internal static string WithPoints(string sentence, decimal points, decimal most) => $"{sentence} {Text(points)} of {Points(most)}.";

    /// <summary>What the points for the compound tell by themselves, in words.</summary>
    /// <param name="claim">The compound claimed.</param>
    /// <param name="points">Points earned.</param>
    /// <param name="alike">Points for one that the evidence cannot tell from the right one.</param>
    /// <param name="most">Points for the right one.</param>
    internal static string Named(string claim, decimal points, decimal alike, decimal most) =>
        most == 0 ? $"You named {claim}, which was compared with what you were given."
        : points == most ? alike == most
            ? $"You named {claim}, which is what you were given, or what your own readings cannot tell from it."
            : $"You named {claim}, which is what you were given."
        : points > 0 ? $"You named {claim}, which is not what you were given, but your own readings cannot tell the two apart."
        : $"You named {claim}, which is not what you were given.";

    /// <summary>The same of its class.</summary>
    /// <param name="points">Points earned.</param>
    /// <param name="lesser">What the part earns that earns less.</param>
    /// <param name="greater">What the other part earns.</param>
    /// <param name="most">Points for both.</param>
    internal static string ClassNamed(decimal points, decimal lesser, decimal greater, decimal most) =>
        "The class is whether it is an aldehyde or a ketone, and whether its carbonyl group stands at an aromatic ring or a C=C. " + (
            lesser == 0 || greater == most ? "Yours was compared with that of the compound handed out."
            : points == most ? "Yours is that of the compound handed out."
            : points > 0 ? "One of the two is right."
            : "Neither is that of the compound handed out.");

    internal static string ClassWithReasons(double unreasoned, IReadOnlyList<string> tests) =>
        $"The class of the compound you named was compared with that of the one handed out. Where these are two compounds, it earns all with a test that tells the class from others of the shelf and turned out as it should, and {Percent(unreasoned)} of that without one. "
        + (tests.Count == 0 ? "No test reported tells classes of the shelf apart." : $"Of the tests reported, classes of the shelf are told apart by: {string.Join(", ", tests)}.");

    internal static string NoCompoundClaimed() => "No compound is claimed.";

    internal static string NothingClaimed() => "Neither a compound nor a function is claimed.";

    // Ranges that could not be of the compound are for graders; without any, a student reads this too.
    internal static string NoEvidence(string farOff = "") =>
        $"The report holds no evidence that counts{(farOff.Length > 0 ? $"; {farOff}" : "")}: nothing bears the claim out.";

    internal static string ClaimOnEvidence(string farOff, string claim, int rank, double posterior, string rule, double share) =>
        $"On the student's own evidence{(farOff.Length > 0 ? $" ({farOff})" : "")} {claim} has rank {rank} and probability {Text(posterior)}: {rule} ({Percent(share)} of the points).";

    internal static string EarnsAll(double full) => $"a probability of {Text(full)} or more earns all";

    internal static string LeadsAlone(double full) => $"it leads alone, short of {Text(full)}";

    internal static string LeadsInSet(int count) => $"the evidence leaves it in a leading set of {count}";

    internal static string RunsUp(int rank, double posterior) => $"rank {rank} or better with a probability of {Text(posterior)} or more earns a part";

    internal static string FallsBehind(int rank, double posterior) => $"a probability of less than {Text(posterior)}, or a rank behind {rank}, earns nothing";

    internal static string EarnsInSet(int largest, double share) =>
        largest == 1 ? $"leading alone earns {Percent(share)}" : $"leading, alone or among {largest} at most that your readings cannot tell apart, earns {Percent(share)}";

    internal static string EarnsBehind(int rank, double posterior, double share) =>
        $"rank {rank} or better with a probability of {Text(posterior)} or more earns {Percent(share)}";

    internal static string EvidenceBearsOut(string claim, string all, IReadOnlyList<string> parts, double farthestCelsius) =>
        $"These points are for how far your own readings bear out {claim}. {Capital(all)}; {string.Join("; ", parts)}; less earns nothing. What that earns is multiplied by the part of your ranges within {Text(farthestCelsius)} °C of those listed for the compound handed out; ranges farther off, and tests that turned out otherwise than expected of it, are not weighed.";

    internal static string NothingListed(decimal points) =>
        $"Nothing is listed for the compound handed out that your report could be held against, so these {Points(points)} count neither way.";

    internal static string Held(string found, string rule) => $"{Capital(found)}. {Capital(rule)}.";

    internal static string NoRange() => "no melting range is reported";

    internal static string NoneRecrystallised() => "no derivative has both a crude and a recrystallised range";

    internal static string WidthRule(double full, double zero) => $"all points are for a range of {Text(full)} °C or less, none for one of {Text(zero)} °C or more";

    internal static string WidthFound(string kind, double spanCelsius, double share) =>
        $"{kind} {(spanCelsius == 0 ? "is reported as one figure" : $"melted over {Text(spanCelsius)} °C")} ({Percent(share)} of the points)";

    internal static string DistanceRule(double full, double zero) =>
        $"all points are for a clear point within {Text(full)} °C of the range listed for the compound handed out, none for one {Text(zero)} °C or more away";

    internal static string ClearPoint(string kind, double celsius, bool isCorrected) =>
        $"{kind} was clear at {Text(celsius)} °C{(isCorrected ? ", corrected" : "")}";

    internal static string RecrystallisationRule(double sharp, double drop) =>
        $"all points are for a range that became narrower or is {Text(sharp)} °C or less, with a clear point no more than {Text(drop)} °C lower than before";

    internal static string Recrystallised(string kind, string crude, string recrystallised, double share) =>
        $"{kind} went from {crude} crude to {recrystallised} recrystallised ({Percent(share)} of the points)";

    internal static string Averaged(int count, string which, double share) => $" The average over the {count} derivatives {which} is {Percent(share)}.";

    internal static string FarAndUnlisted(double farthestCelsius, int expected) =>
        $" A range more than {Text(farthestCelsius)} °C from those listed for the compound handed out earns none of the points for ranges, and one with nothing listed counts neither way. These points are averaged over the derivatives reported{(expected > 1 ? $", and over {expected} at least where as many are listed" : "")}.";

    internal static string NotOffered(string noun, string name) => $" {name} is no {noun} that this course offers, so it earns nothing.";

    internal static string NoTest() => "No spot test is reported";

    internal static string TestFound(string test, string seen, string expected, string parent, double count) =>
        $"{test} was {seen}, and {expected} is expected of {parent} ({(count == 1 ? "it fits" : count == 0 ? "it doesn't fit" : $"it counts {Percent(count)}")})";

    internal static string TestsCounted(string found, double counted, double divisor, int expected) =>
        $"{found}. Of {Figure.Count((int)divisor, "test")} {Text(counted)} fit; {Are(expected)} expected.";

    internal static string TestsCompared(int reported, int expected, double doubtful) =>
        $"Your tests were compared with what is expected of the compound handed out: one that turned out so counts in full, a doubtful one {Percent(doubtful)}. You reported {Figure.Count(reported, "test")}, and {Are(expected)} expected.";

    internal static string MarkedByHand(decimal points, decimal most) => $"This is marked by hand: {Text(points)} of {Points(most)}.";

    internal static string NotMarkedYet(decimal points) => $"This is marked by hand, up to {Points(points)}, and is not marked yet.";

    /// <summary>That a person gave other points.</summary>
    /// <param name="points">Points given.</param>
    /// <param name="computed">Points worked out.</param>
    /// <param name="most">Most points; 0 where they are taken.</param>
    /// <param name="reason">The person's reason.</param>
    /// <param name="sentence">Why those were worked out.</param>
    public static string GivenByHand(decimal points, decimal computed, decimal most, string? reason, string sentence) =>
        $"{(most > 0 ? $"{Text(points)} of {Points(most)}" : Points(points))} {(points == 1 && most == 0 ? "is" : "are")} given by hand in place of {Points(computed)}: {reason} (What was worked out: {sentence})";

    internal static string AttemptsTaken(int attempt, int free, int beyond, decimal each, decimal most, decimal points) =>
        $"This is attempt {attempt}, and {(free == 1 ? "the first is" : $"the first {free} are")} free" + (beyond == 0
            ? $", so nothing is taken: {Points(points)}."
            : $". Each one after that takes {Points(each)}, but no more than {Points(most)} are taken in all: {Points(points)}.");

    internal static string InTime() => "It was handed in in time";

    internal static string Late(double hours, double free) =>
        $"It was handed in {Text(hours)} {(hours == 1 ? "hour" : "hours")} late{(free > 0 ? $", and {Text(free)} {(free == 1 ? "hour is" : "hours are")} free" : "")}";

    internal static string LatenessTaken(string found, int days, decimal each, decimal most, decimal points) => days == 0
        ? $"{found}, so nothing is taken: {Points(points)}."
        : $"{found}. Each day begun takes {Points(each)}, but no more than {Points(most)} are taken in all. For {Figure.Count(days, "day")} that is {Points(points)}.";

    /// <summary>That there is no grade; why, is for graders.</summary>
    public static string NotGraded() => "It could not be graded; ask your instructor.";

    /// <summary>Feedback of a student without an unknown.</summary>
    public static string NoUnknown() => "No unknown was handed out to you.";

    /// <summary>Feedback of everybody in a course for practice.</summary>
    public static string ForPractice() => "This course is for practice: nothing of it counts.";

    /// <summary>An unknown, by name.</summary>
    /// <param name="number">Its number among the student's.</param>
    /// <param name="code">Its code.</param>
    public static string Unknown(int number, string code) => $"Unknown {Figure.Text(number, 0)} ({code})";

    /// <summary>Feedback of an unknown without a report.</summary>
    /// <param name="unknown">The unknown, by name.</param>
    /// <param name="countsZero">Whether it counts as 0; else it is left out.</param>
    public static string NothingHandedIn(string unknown, bool countsZero) =>
        $"{unknown}: nothing was handed in; it {(countsZero ? "counts as 0" : "is left out")}.";

    /// <summary>Feedback of a report that a grading doesn't have.</summary>
    /// <param name="unknown">The unknown, by name.</param>
    public static string NotInGrading(string unknown) => $"{unknown}: handed in, but not in this grading.";

    /// <summary>Feedback of a report without a grade.</summary>
    /// <param name="unknown">The unknown, by name.</param>
    /// <param name="problem">That it could not be graded. Missing: null, it isn't yet.</param>
    public static string NotGradedYet(string unknown, string? problem) => $"{unknown}: {problem ?? "handed in, not graded yet."}";

    /// <summary>Feedback of a report.</summary>
    /// <param name="unknown">The unknown, by name.</param>
    /// <param name="attempt">Which attempt counts.</param>
    /// <param name="isBest">Whether the best counts; else the last.</param>
    /// <param name="points">Points in all.</param>
    /// <param name="most">Most points.</param>
    /// <param name="lines">What is said of each criterion, and of the whole.</param>
    public static string Graded(string unknown, int attempt, bool isBest, double points, double most, string lines) =>
        $"{unknown}: attempt {Figure.Text(attempt, 0)} counts{(isBest ? ", the best one" : "")}, with {Figure.Points(points, most)} points. {lines}";

    private static string Points(decimal points) => $"{Text(points)} {(Math.Abs(points) == 1 ? "point" : "points")}";

    private static string Percent(double share) => $"{Text(100 * share)} %";

    private static string Are(int tests) => tests == 1 ? "1 is" : $"{tests} are";

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];

    private static string Text(double value) => Criterion.Text(value);

    private static string Text(decimal value) => Criterion.Text(value);
}
