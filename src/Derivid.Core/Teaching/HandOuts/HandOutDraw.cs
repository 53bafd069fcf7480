using System.Globalization;
using Derivid.Core.Ranking;

namespace Derivid.Core.Teaching.HandOuts;

/// <summary>Hands out unknowns.</summary>
/// <remarks>
/// Hard: the unknowns of one student differ, and no neighbours share a compound; only compounds that the laboratory can
/// identify are used, unless the rules say otherwise. Then: each compound is used as often as the others, and difficulty
/// is spread fairly over students and benches. The same seed, students, shelf, rules and table give the same hand-out, in
/// whatever order the lists come. Thread safety: immutable.
/// </remarks>
public sealed class HandOutDraw
{
    private readonly Roster _roster;
    private readonly Laboratory _laboratory;
    private readonly HandOutRules _rules;
    private readonly HandOutSeed _seed;
    private readonly TableSnapshot _snapshot;
    private readonly CancellationToken _stop;

    private HandOutDraw(
        Roster roster, Laboratory laboratory, HandOutRules rules, HandOutSeed seed, TableSnapshot snapshot, CancellationToken stop)
    {
        _roster = roster;
        _laboratory = laboratory;
        _rules = rules;
        _seed = seed;
        _snapshot = snapshot;
        _stop = stop;
    }

    /// <summary>Hands out unknowns to a roster.</summary>
    /// <param name="roster">The students.</param>
    /// <param name="laboratory">The shelf and what can be done.</param>
    /// <param name="rules">What has to be satisfied.</param>
    /// <param name="seed">The secret everything is drawn from.</param>
    /// <param name="snapshot">The table the laboratory's keys are of.</param>
    /// <param name="stop">Ends the work; what was not found by then counts as impossible, so that no hand-out depends on it.</param>
    /// <returns>The hand-out, or why it is impossible.</returns>
    /// <exception cref="ArgumentException">The laboratory or the rules are not valid in themselves.</exception>
    public static HandOutResult Draw(
        Roster roster, Laboratory laboratory, HandOutRules rules, HandOutSeed seed, TableSnapshot snapshot, CancellationToken stop = default)
    {
        ArgumentNullException.ThrowIfNull(roster);
        ArgumentNullException.ThrowIfNull(laboratory);
        ArgumentNullException.ThrowIfNull(rules);
        ArgumentNullException.ThrowIfNull(seed);
        ArgumentNullException.ThrowIfNull(snapshot);
        rules.Check();
        var draw = new HandOutDraw(roster, laboratory, rules, seed, snapshot, stop);
        try
        {
            return draw.Draw();
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            return new HandOutResult(null, draw.TooLong());
        }
    }

    private HandOutResult Draw()
    {
        var shelf = new IdentifiabilityCheck(_laboratory, _rules.LeastPosterior, _snapshot).Run(_stop);
        var usable = shelf.Where(IsUsable).ToList();
        if (usable.Count < _rules.UnknownsPerStudent)
        {
            return new HandOutResult(null, TooFew(shelf, usable));
        }

        var graph = new SlotGraph(_roster, _rules.UnknownsPerStudent);
        var crowd = graph.AllDiffering(_stop);
        if (crowd.Count > usable.Count)
        {
            return new HandOutResult(null, AllNeighbours(graph, crowd, usable.Count));
        }

        var colouring = new NeighbourColouring(graph, usable.Count, _seed.Stream("allocation"));
        if (!colouring.Run(_stop))
        {
            return new HandOutResult(null, NoWay(graph, colouring, usable.Count));
        }

        EvenUse.Improve(graph, colouring.Colours, usable.Count, _stop);
        NameAnew(colouring.Colours, usable.Count);
        new FairDifficulty(graph, colouring.Colours, usable.Select(item => item.Difficulty), _roster, _seed.Stream("fairness"))
            .Improve(_stop);
        return new HandOutResult(HandOut(shelf, usable, colouring.Colours), null);
    }

    /// <summary>
    /// Which colour is which compound is drawn last: what came before goes through them in order, and a compound's place on the
    /// shelf would tell of seats with many neighbours.
    /// </summary>
    private void NameAnew(int[] colours, int count)
    {
        var compounds = _seed.Stream("naming").Order(count);
        for (var slot = 0; slot < colours.Length; slot++)
        {
            colours[slot] = compounds[colours[slot]];
        }
    }

    private bool IsUsable(Identifiability item) =>
        (item.IsIdentifiable || _rules.HandsOutUnidentifiable) && item.Difficulty <= _rules.LargestDifficulty;

    private HandOut HandOut(IReadOnlyList<Identifiability> shelf, List<Identifiability> usable, int[] colours)
    {
        var totals = colours.Chunk(_rules.UnknownsPerStudent).Select(own => own.Sum(colour => usable[colour].Difficulty)).ToList();
        var uses = usable.Select((item, i) => (item.ParentKey, colours.Count(colour => colour == i)))
            .ToDictionary(StringComparer.Ordinal);
        var remarks = shelf.Where(item => !item.IsIdentifiable).Select(item => item.Sentence)
            .Concat(shelf.Where(IsTooHard).Select(TooHard))
            .ToList();
        if (uses.Values.Max() - uses.Values.Min() > 1)
        {
            remarks.Add(
                $"Neighbours could only be kept apart by using one compound {uses.Values.Max()} times and another {uses.Values.Min()} times.");
        }

        return new HandOut
        {
            Unknowns = Unknowns(usable, colours),
            Shelf = shelf,
            LeftOut = [.. shelf.Where(item => !IsUsable(item)).Select(item => item.ParentKey)],
            Uses = uses,
            EasiestTotal = totals.Min(),
            HardestTotal = totals.Max(),
            Remarks = remarks,
        };
    }

    private List<HandedOutUnknown> Unknowns(List<Identifiability> usable, int[] colours)
    {
        var codes = new HashSet<UnknownCode>();
        var unknowns = new List<HandedOutUnknown>(colours.Length);
        for (var slot = 0; slot < colours.Length; slot++)
        {
            var student = _roster.Seats[slot / _rules.UnknownsPerStudent].StudentKey;
            var number = (slot % _rules.UnknownsPerStudent) + 1;
            unknowns.Add(new HandedOutUnknown(student, number, Code(student, number, codes), usable[colours[slot]].ParentKey));
        }

        return unknowns;
    }

    /// <summary>A code drawn for the student and number alone: what is inside has no part in it.</summary>
    private UnknownCode Code(string student, int number, HashSet<UnknownCode> taken)
    {
        for (var attempt = 0; ; attempt++)
        {
            var code = UnknownCode.FromNumber(
                _seed.Number("code", string.Create(CultureInfo.InvariantCulture, $"{number}/{attempt}/{student}")));
            if (taken.Add(code))
            {
                return code;
            }
        }
    }

    private bool IsTooHard(Identifiability item) => item.Difficulty > _rules.LargestDifficulty;

    private string TooHard(Identifiability item) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{item.ParentKey} is left out: its difficulty is {item.Difficulty:0.00}, above the {_rules.LargestDifficulty:0.00} allowed.");

    private HandOutRefusal TooFew(IReadOnlyList<Identifiability> shelf, List<Identifiability> usable)
    {
        var kept = shelf.Except(usable)
            .Select(item => item.IsIdentifiable || _rules.HandsOutUnidentifiable ? TooHard(item) : item.Sentence)
            .ToList();
        var sentence = $"{_rules.UnknownsPerStudent} different unknowns a student are asked for, and {usable.Count} of the {shelf.Count} compounds on the shelf can be handed out. {string.Join(" ", kept)}";
        return new HandOutRefusal(
            kept.Count == 0 ? HandOutConstraint.EnoughCompounds : HandOutConstraint.Identifiable,
            sentence.TrimEnd(),
            kept.Count == 0
                ? "Put more compounds on the shelf or hand out fewer unknowns to each student."
                : "Offer the derivative or test named, put other compounds on the shelf, or lower the probability asked for.");
    }

    /// <summary>The refusal of a roster with more unknowns that must all differ than there are compounds: no search is needed.</summary>
    private HandOutRefusal AllNeighbours(SlotGraph graph, List<int> crowd, int compounds) => Crowded(
        graph, crowd, compounds, $"all neighbours of each other and need {crowd.Count} different compounds between them", crowd.Count);

    private HandOutRefusal NoWay(SlotGraph graph, NeighbourColouring failure, int compounds) => Crowded(
        graph,
        failure.Failed!,
        compounds,
        failure.GaveUp
            ? $"so closely neighboured that no way was found in {NeighbourColouring.MostSteps} attempts"
            : "so closely neighboured that no way exists",
        compounds + 1);

    private HandOutRefusal Crowded(SlotGraph graph, IEnumerable<int> slots, int compounds, string why, int least)
    {
        var students = slots.Select(slot => _roster.Seats[graph.StudentOf(slot)].StudentKey)
            .Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToList();
        return new HandOutRefusal(
            HandOutConstraint.Neighbours,
            $"No neighbours may share a compound, but {Listed(students)} are {why}; {compounds} can be handed out.",
            $"Have {Enough(graph, least)} compounds to hand out, or seat some of them apart or take back a pair of neighbours.");
    }

    private HandOutRefusal TooLong()
    {
        var most = Enumerable.Range(0, _roster.Seats.Count).Max(student => _roster.NeighboursOf(student).Count);
        var crowded = Enumerable.Range(0, _roster.Seats.Count).Where(student => _roster.NeighboursOf(student).Count == most)
            .Select(student => _roster.Seats[student].StudentKey).ToList();
        return new HandOutRefusal(
            HandOutConstraint.Neighbours,
            $"It took too long to work out unknowns for {_roster.Seats.Count} students, {_rules.UnknownsPerStudent} each, from a shelf of {_laboratory.ShelfKeys.Count}; most neighbours, {most}, have {Listed(crowded)}.",
            "Take back pairs of neighbours, hand out fewer unknowns to each student, or divide the course.");
    }

    private static string Listed(List<string> students) =>
        students.Count <= 12
            ? string.Join(", ", students)
            : $"{string.Join(", ", students.Take(12))} and {students.Count - 12} more";

    /// <summary>The least number of compounds found to be enough, or that more are, where finding it takes too long.</summary>
    private string Enough(SlotGraph graph, int least)
    {
        try
        {
            // One more than the most slots any slot must differ from is always enough, so this ends.
            while (!new NeighbourColouring(graph, least, _seed.Stream("allocation")).Run(_stop))
            {
                least++;
            }

            return least.ToString(CultureInfo.InvariantCulture);
        }
        catch (OperationCanceledException)
        {
            return $"{least} or more";
        }
    }
}
