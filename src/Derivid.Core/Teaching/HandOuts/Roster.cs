namespace Derivid.Core.Teaching.HandOuts;

/// <summary>The students of a course, and who works beside whom.</summary>
/// <remarks>
/// Two students are neighbours if they sit at one bench at places whose numbers differ by 1, or if a pair names them.
/// Equality: by reference. Thread safety: immutable.
/// </remarks>
public sealed class Roster
{
    /// <summary>Most students taken.</summary>
    public const int LargestCount = 2000;

    /// <summary>Longest identifier of a student. Units: characters.</summary>
    public const int LongestKey = 64;

    private readonly int[][] _neighbours;

    /// <summary>Takes students and extra pairs of neighbours.</summary>
    /// <param name="seats">Shape: 1 to 2000, any order.</param>
    /// <param name="pairs">Shape: any order; a pair may be named twice or say what the places say.</param>
    /// <exception cref="ArgumentException">
    /// A student or a place is taken twice, an identifier is empty, too long or holds control characters, a place has no
    /// bench, or a pair names someone who is not in the roster or one student twice.
    /// </exception>
    public Roster(IEnumerable<Seat> seats, IEnumerable<NeighbourPair>? pairs = null)
    {
        ArgumentNullException.ThrowIfNull(seats);
        Seats = [.. seats.OrderBy(seat => seat.StudentKey, StringComparer.Ordinal)];
        CheckSeats();
        _neighbours = NeighbourLists(pairs ?? []);
    }

    /// <summary>The students, in ordinal order of their identifiers.</summary>
    public IReadOnlyList<Seat> Seats { get; }

    /// <summary>The neighbours of a student.</summary>
    /// <param name="student">Index in <see cref="Seats"/>.</param>
    /// <returns>Indices in <see cref="Seats"/>. Shape: rising, no repeats; may be empty.</returns>
    public IReadOnlyList<int> NeighboursOf(int student) => _neighbours[student];

    /// <summary>The same roster as unknowns are handed out by: one seat a group, that of its first member.</summary>
    /// <remarks>A group is a neighbour of whomever one of its members is a neighbour of. A student without a group is one by themself.</remarks>
    /// <returns>Itself, if nobody shares a group.</returns>
    public Roster ByGroup()
    {
        var first = new Dictionary<string, int>(StringComparer.Ordinal);
        var holders = Seats.Select((seat, i) => seat.Group is { } group && !first.TryAdd(group, i) ? first[group] : i).ToArray();
        return holders.Distinct().Count() == Seats.Count
            ? this
            : new Roster(
                holders.Distinct().Select(i => Seats[i]),
                _neighbours.SelectMany((others, i) => others.Select(other => (holders[i], holders[other])))
                    .Where(pair => pair.Item1 < pair.Item2).Distinct()
                    .Select(pair => new NeighbourPair(Seats[pair.Item1].StudentKey, Seats[pair.Item2].StudentKey)));
    }

    /// <summary>The students who share one's unknowns.</summary>
    /// <param name="studentKey">A student of the roster.</param>
    /// <returns>Shape: in ordinal order of their identifiers; the student alone, if they have no group.</returns>
    public IEnumerable<string> MembersWith(string studentKey) =>
        Seats.First(seat => seat.StudentKey == studentKey) is { Group: { } group }
            ? Seats.Where(seat => seat.Group == group).Select(seat => seat.StudentKey)
            : [studentKey];

    private void CheckSeats()
    {
        if (Seats.Count is 0 or > LargestCount)
        {
            throw new ArgumentException($"A roster has 1 to {LargestCount} students, this one {Seats.Count}.");
        }

        foreach (var seat in Seats)
        {
            if (seat.StudentKey is not { Length: > 0 and <= LongestKey } || seat.StudentKey.Any(char.IsControl))
            {
                throw new ArgumentException(
                    $"A student's identifier has 1 to {LongestKey} characters and no control characters; '{seat.StudentKey}' has not.");
            }

            if (seat.Place is not null && seat.Bench is null)
            {
                throw new ArgumentException($"Student '{seat.StudentKey}' has place {seat.Place} but no bench.");
            }
        }

        if (Seats.GroupBy(seat => seat.StudentKey, StringComparer.Ordinal).FirstOrDefault(g => g.Count() > 1) is { } twice)
        {
            throw new ArgumentException($"Student '{twice.Key}' is in the roster twice.");
        }

        var shared = Seats.Where(seat => seat.Place is not null)
            .GroupBy(seat => (seat.Bench, seat.Place))
            .FirstOrDefault(group => group.Count() > 1);
        if (shared is not null)
        {
            var students = string.Join(" and ", shared.Select(seat => $"'{seat.StudentKey}'"));
            throw new ArgumentException($"Place {shared.Key.Place} of bench '{shared.Key.Bench}' is given to {students}.");
        }
    }

    private int[][] NeighbourLists(IEnumerable<NeighbourPair> pairs)
    {
        var index = Seats.Select((seat, i) => (seat.StudentKey, i)).ToDictionary(StringComparer.Ordinal);
        var neighbours = Seats.Select(_ => new SortedSet<int>()).ToArray();
        var places = Seats
            .Select((seat, i) => (seat, i))
            .Where(item => item.seat.Place is not null)
            .ToDictionary(item => (item.seat.Bench!, item.seat.Place!.Value), item => item.i);
        foreach (var ((bench, place), student) in places)
        {
            if (place < int.MaxValue && places.TryGetValue((bench, place + 1), out var next))
            {
                neighbours[student].Add(next);
                neighbours[next].Add(student);
            }
        }

        foreach (var pair in pairs)
        {
            var (first, second) = (Find(pair.FirstStudentKey), Find(pair.SecondStudentKey));
            if (first == second)
            {
                throw new ArgumentException($"A pair of neighbours names student '{pair.FirstStudentKey}' twice.");
            }

            neighbours[first].Add(second);
            neighbours[second].Add(first);
        }

        return [.. neighbours.Select(set => set.ToArray())];

        int Find(string key) => index.TryGetValue(key, out var student)
            ? student
            : throw new ArgumentException($"A pair of neighbours names '{key}', who is not in the roster.");
    }
}

/// <summary>A student of a roster and where they work.</summary>
/// <param name="StudentKey">The institution's own identifier. Shape: 1 to 64 characters; unique in a roster.</param>
/// <param name="Bench">The bench. Missing: null, no fixed place.</param>
/// <param name="Place">
/// Place along the bench; places whose numbers differ by 1 are beside each other. Missing: null, no fixed place.
/// </param>
/// <param name="Group">The group, whose members share their unknowns and hand in one report on each. Missing: null, they work alone.</param>
public sealed record Seat(string StudentKey, string? Bench = null, int? Place = null, string? Group = null)
{
    /// <summary>Where somebody works, as a label says it.</summary>
    /// <param name="bench">The bench. Missing: null, no fixed place.</param>
    /// <param name="place">Place along the bench. Missing: null.</param>
    /// <returns>Missing: empty, no fixed place.</returns>
    public static string InWords(string? bench, int? place) => (bench, place) switch
    {
        (null, _) => "",
        (_, null) => $"Bench {bench}",
        _ => $"Bench {bench}, place {place}",
    };
}

/// <summary>Two students who work in sight of each other although their places do not say so.</summary>
/// <param name="FirstStudentKey">One of them.</param>
/// <param name="SecondStudentKey">The other.</param>
public sealed record NeighbourPair(string FirstStudentKey, string SecondStudentKey);
