namespace Derivid.Core.Teaching.Grading;

/// <summary>
/// Every sentence of grades and feedback that a student can come to read, in one place: whoever words them, or reads them through
/// before a class does, needs no other file. What only graders read stands with its criterion.
/// </summary>
/// <remarks>
/// None tells what was handed out: they are made of what the student reported, of the rubric, and of the points. Each has an
/// example in <see cref="Examples"/>, of made-up figures; a test prints them all and finds one that is missing.
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
        (nameof(EvidenceBearsOut), EvidenceBearsOut("butanone", 10)),
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
        (nameof(FarAndUnlisted), FarAndUnlisted(10)),
        (nameof(NotOffered), NotOffered("derivative", "semicarbazone")),
        (nameof(NoTest), NoTest()),
        (nameof(TestFound), TestFound("iodoform test", "positive", "either way", "butanone", 1)),
        (nameof(TestsCounted), TestsCounted(NoTest(), 0, 2, 2)),
        (nameof(MarkedByHand), MarkedByHand(5)),
        (nameof(NotMarkedYet), NotMarkedYet(5)),
        (nameof(GivenByHand), GivenByHand("1.5", "The thermometer stuck; I saw it.", WithPoints(NoCompoundClaimed(), 0, 10))),
        (nameof(AttemptsTaken), AttemptsTaken(3, 1, 2, 2, 6, -4)),
        (nameof(InTime), InTime()),
        (nameof(Late), Late(25.5, 0)),
        (nameof(LatenessTaken), LatenessTaken(Late(25.5, 0), 2, 3, 12, -6)),
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
        return !line.TellsIdentity ? line.Sentence : line.ForStudents ?? line.Criterion switch
        {
            CriterionKind.RightCompound => "For the compound claimed, held against the one handed out.",
            CriterionKind.RightClass => "For the class of the compound claimed, held against that of the one handed out.",
            CriterionKind.RangeDistance => "For the melting ranges, held against those listed for the compound handed out.",
            CriterionKind.TestsFitCompound => "For the tests, held against what is expected of the compound handed out.",
            _ => "For this part of the report.",
        };
    }

    internal static string WithPoints(string sentence, decimal points, decimal most) => $"{sentence} {Text(points)} of {Text(most)}.";

    internal static string ClassWithReasons(double unreasoned, IReadOnlyList<string> tests) =>
        $"For the class of the compound claimed, held against that of the one handed out. Where these are two compounds, it earns all with a test that tells the class from others of the shelf and turned out as it should, and a share of {Text(unreasoned)} of that without one. "
        + (tests.Count == 0 ? "No test reported tells classes of the shelf apart." : $"Of the tests reported, classes of the shelf are told apart by: {string.Join(", ", tests)}.");

    internal static string NoCompoundClaimed() => "No compound is claimed.";

    internal static string NothingClaimed() => "Neither a compound nor a function is claimed.";

    // Ranges that could not be of the compound are for graders; without any, a student reads this too.
    internal static string NoEvidence(string farOff = "") =>
        $"The report holds no evidence that counts{(farOff.Length > 0 ? $"; {farOff}" : "")}: nothing bears the claim out.";

    internal static string ClaimOnEvidence(string farOff, string claim, int rank, double posterior, string rule, double share) =>
        $"On the student's own evidence{(farOff.Length > 0 ? $" ({farOff})" : "")} {claim} has rank {rank} and probability {Text(posterior)}: {rule} (share {Text(share)}).";

    internal static string EarnsAll(double full) => $"{Text(full)} or more earns all";

    internal static string LeadsAlone(double full) => $"it leads alone, short of {Text(full)}";

    internal static string LeadsInSet(int count) => $"the evidence leaves it in a leading set of {count}";

    internal static string RunsUp(int rank, double posterior) => $"rank {rank} or better with {Text(posterior)} or more earns a share";

    internal static string FallsBehind(int rank, double posterior) => $"less than {Text(posterior)}, or behind rank {rank}, earns nothing";

    internal static string EvidenceBearsOut(string claim, double farthestCelsius) =>
        $"How far your evidence bears out {claim}, times the part of your ranges within {Text(farthestCelsius)} °C of those listed for the compound handed out; tests that turned out otherwise than expected of it are not weighed.";

    internal static string NothingListed(decimal points) =>
        $"Nothing is listed to hold this against: these {Text(points)} points count neither way.";

    internal static string Held(string found, string rule) => $"{char.ToUpperInvariant(found[0])}{found[1..]}; {rule}.";

    internal static string NoRange() => "no melting range is reported";

    internal static string NoneRecrystallised() => "no derivative has both a crude and a recrystallised range";

    internal static string WidthRule(double full, double zero) => $"full to {Text(full)} °C, nothing from {Text(zero)} °C";

    internal static string WidthFound(string kind, double spanCelsius, double share) =>
        $"{kind} {(spanCelsius == 0 ? "one figure" : $"over {Text(spanCelsius)} °C")} (share {Text(share)})";

    internal static string DistanceRule(double full, double zero) =>
        $"full to {Text(full)} °C from the range listed for the compound handed out, nothing from {Text(zero)} °C";

    internal static string ClearPoint(string kind, double celsius, bool isCorrected) =>
        $"{kind} clear at {Text(celsius)} °C{(isCorrected ? ", corrected" : "")}";

    internal static string RecrystallisationRule(double sharp, double drop) =>
        $"narrower or within {Text(sharp)} °C, and clear no more than {Text(drop)} °C lower";

    internal static string Recrystallised(string kind, string crude, string recrystallised, double share) =>
        $"{kind} from {crude} crude to {recrystallised} recrystallised (share {Text(share)})";

    internal static string Averaged(int count, string which, double share) => $" Averaged over the {count} derivatives {which}: {Text(share)}.";

    internal static string FarAndUnlisted(double farthestCelsius) =>
        $" A range more than {Text(farthestCelsius)} °C from those listed for the compound handed out earns nothing, and one with nothing listed counts neither way.";

    internal static string NotOffered(string noun, string name) => $" {name} is no {noun} that this course offers, so it earns nothing.";

    internal static string NoTest() => "No spot test is reported";

    internal static string TestFound(string test, string seen, string expected, string parent, double count) =>
        $"{test} {seen}, {expected} expected of {parent} (counts {Text(count)})";

    internal static string TestsCounted(string found, double counted, double divisor, int expected) =>
        $"{found}. Counted {Text(counted)} of {divisor} ({expected} expected).";

    internal static string MarkedByHand(decimal points) => $"Marked by hand, up to {Text(points)} points.";

    internal static string NotMarkedYet(decimal points) => $"Marked by hand, up to {Text(points)} points; not marked yet.";

    /// <summary>That a person gave other points.</summary>
    /// <param name="computed">Points worked out.</param>
    /// <param name="reason">The person's reason.</param>
    /// <param name="sentence">Why those were worked out.</param>
    public static string GivenByHand(string computed, string? reason, string sentence) => $"Given by hand in place of {computed}: {reason} ({sentence})";

    internal static string AttemptsTaken(int attempt, int free, int beyond, decimal each, decimal most, decimal points) =>
        $"Attempt {attempt}, {free} free: {beyond} beyond at {Text(each)} each, {Text(most)} at most. {Text(points)}.";

    internal static string InTime() => "Handed in in time";

    internal static string Late(double hours, double free) => $"Handed in {Text(hours)} hours late, {Text(free)} free";

    internal static string LatenessTaken(string found, int days, decimal each, decimal most, decimal points) =>
        $"{found}: {Figure.Count(days, "day")} begun at {Text(each)} each, {Text(most)} at most. {Text(points)}.";

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
        $"{unknown}, attempt {Figure.Text(attempt, 0)}{(isBest ? ", the best one counts" : "")}: {Figure.Points(points, most)} points. {lines}";

    private static string Text(double value) => Criterion.Text(value);

    private static string Text(decimal value) => Criterion.Text(value);
}
