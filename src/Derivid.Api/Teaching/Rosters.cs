using System.Globalization;
using System.Text;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Rosters between wire, archive and laboratory.</summary>
public static class Rosters
{
    private const int LongestText = ActorName.LongestCount;

    /// <summary>Puts a roster on the wire.</summary>
    /// <param name="students">The students.</param>
    public static RosterBody ToWire(IEnumerable<CourseStudent> students) => new()
    {
        Students = [.. students.Select(student => new RosterStudent
        {
            Student = student.StudentKey,
            Bench = student.Bench,
            Place = student.Place,
            Neighbours = student.Neighbours.Count > 0 ? student.Neighbours : null,
            Group = student.GroupName,
            Actor = student.Actor,
        })],
    };

    /// <summary>Makes a roster that can be kept, and checks it as a whole.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="students">The students as sent.</param>
    /// <param name="place">Where the list stands, a JSON Pointer; empty for a file.</param>
    /// <param name="errors">Takes the faults.</param>
    /// <returns>The students. It means something only while no faults were noted.</returns>
    public static CourseStudent[] ToStore(
        string courseId, IReadOnlyList<RosterStudent> students, string place, FieldErrors errors)
    {
        ArgumentNullException.ThrowIfNull(students);
        ArgumentNullException.ThrowIfNull(errors);
        CourseStudent[] kept = [.. students.Select(student => new CourseStudent
        {
            CourseId = courseId,
            StudentKey = student.Student.Trim(),
            Bench = student.Bench?.Trim() is { Length: > 0 } bench ? bench : null,
            Place = student.Place,
            Neighbours = student.Neighbours ?? [],
            GroupName = student.Group?.Trim() is { Length: > 0 } group ? group : null,
            Actor = student.Actor?.Trim() is { Length: > 0 } actor ? actor : null,
            IsEnrolled = true,
        })];
        try
        {
            ToCore(kept);
        }
        catch (ArgumentException fault)
        {
            errors.Add(place, fault.Message);
        }

        AddIdentifierFaults(kept, place, errors);
        AddGroupFaults(kept, place, errors);
        AddTextFaults(kept, place, errors);
        AddActorFaults(kept, place, errors);
        return kept;
    }

    /// <summary>The roster as unknowns are handed out by.</summary>
    /// <param name="students">The students.</param>
    /// <exception cref="ArgumentException">The roster contradicts itself; the message says where.</exception>
    public static Roster ToCore(IReadOnlyCollection<CourseStudent> students) => new(
        students.Select(student => new Seat(student.StudentKey, student.Bench, student.Place, student.GroupName)),
        students.SelectMany(student => student.Neighbours.Select(other => new NeighbourPair(student.StudentKey, other))));

    // Two rosters that write one identifier in two ways that look alike would mean two students, and an examination know one of them.
    private static void AddIdentifierFaults(CourseStudent[] students, string place, FieldErrors errors)
    {
        foreach (var student in students.Where(student => IsAmbiguous(student.StudentKey)))
        {
            errors.Add(
                place,
                $"{Text.Quoted(student.StudentKey)} holds a character that can't be seen or an accent apart from its letter; letters, digits, signs and single plain spaces are allowed, an accented letter as one character.");
        }

        foreach (var alike in students.GroupBy(student => student.StudentKey, StringComparer.OrdinalIgnoreCase).Where(group => group.Count() > 1))
        {
            errors.Add(place, $"{string.Join(", ", alike.Select(student => Text.Quoted(student.StudentKey)))} differ in upper and lower case only, so they are one identifier.");
        }
    }

    // As with identifiers: who reads a list of groups must not take two for one.
    private static void AddGroupFaults(CourseStudent[] students, string place, FieldErrors errors)
    {
        var groups = students.Select(student => student.GroupName).OfType<string>().Distinct(StringComparer.Ordinal).ToList();
        foreach (var group in groups.Where(group => group.Length > Roster.LongestKey || IsAmbiguous(group)))
        {
            errors.Add(
                place,
                $"{Text.Quoted(group)} can't be the name of a group; at most {Roster.LongestKey} letters, digits, signs and single plain spaces are allowed, an accented letter as one character.");
        }

        foreach (var alike in groups.GroupBy(group => group, StringComparer.OrdinalIgnoreCase).Where(alike => alike.Count() > 1))
        {
            errors.Add(place, $"The groups {string.Join(", ", alike.Select(Text.Quoted))} differ in upper and lower case only; write one group in one way.");
        }
    }

    private static bool IsAmbiguous(string key) =>
        key.Contains("  ", StringComparison.Ordinal) || key.EnumerateRunes().Any(rune => !IsPlain(rune));

    // Letters, digits, signs and the space; without those that show nothing, parts of a syllable, and signs that are letters too.
    private static bool IsPlain(Rune rune) =>
        rune.Value == ' '
        || (Rune.GetUnicodeCategory(rune) is not (UnicodeCategory.NonSpacingMark or UnicodeCategory.SpacingCombiningMark
                or UnicodeCategory.EnclosingMark or UnicodeCategory.Format or UnicodeCategory.Control or UnicodeCategory.Surrogate
                or UnicodeCategory.PrivateUse or UnicodeCategory.OtherNotAssigned or UnicodeCategory.SpaceSeparator
                or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator)
            && rune.Value is not ((>= 0x1100 and <= 0x11FF) or (>= 0xA960 and <= 0xA97F) or (>= 0xD7B0 and <= 0xD7FF)
                or 0x3164 or 0xFFA0 or 0x2800 or 0x2126 or 0x212A or 0x212B));

    // A file's cells have passed no check of their shape.
    private static void AddTextFaults(CourseStudent[] students, string place, FieldErrors errors)
    {
        foreach (var student in students)
        {
            var texts = new[] { student.Bench, student.Actor }.Concat(student.Neighbours).OfType<string>();
            foreach (var text in texts.Where(text => text.Length > LongestText || Text.HasControlCharacter(text)))
            {
                errors.Add(
                    place,
                    $"{Text.Quoted(text)} of student {Text.Quoted(student.StudentKey)} can't be kept; one line of at most {LongestText} characters is allowed.");
            }
        }
    }

    /// <summary>What is wrong with the name of a caller that is none.</summary>
    /// <param name="actor">As sent.</param>
    internal static string NoCaller(string actor) =>
        $"{Text.Quoted(actor)} names no caller; it begins with {ActorName.KeyPrefix} or {ActorName.SignInPrefix}, as GET /api/v1/keys/current and the page about oneself tell it.";

    private static void AddActorFaults(CourseStudent[] students, string place, FieldErrors errors)
    {
        var named = students.Where(student => student.Actor is not null).ToList();
        foreach (var student in named.Where(student => !ActorName.IsOne(student.Actor!)))
        {
            errors.Add(
                place,
                $"Student {Text.Quoted(student.StudentKey)}: {NoCaller(student.Actor!)}");
        }

        foreach (var shared in named.GroupBy(student => student.Actor, StringComparer.Ordinal).Where(group => group.Count() > 1))
        {
            errors.Add(place, $"{Text.Quoted(shared.Key!)} is given to {shared.Count()} students; a caller is one student.");
        }
    }
}
