using System.ComponentModel.DataAnnotations;
using System.Text.Json.Serialization;
using Derivid.Core.Compounds;

namespace Derivid.Contracts;

/// <summary>A report on an unknown, as its student writes it.</summary>
public record ReportRequest
{
    /// <summary>Longest free text. Units: characters.</summary>
    public const int LongestText = 4000;

    /// <summary>The code on the unknown's label, in either case, with or without its hyphen.</summary>
    public required string Assignment { get; init; }

    /// <summary>
    /// What was seen and measured: crude and recrystallised ranges, colours, tests. Prior, window, what hazard counts
    /// for, table version and number of candidates are the course's business and are refused here. Missing: nothing yet.
    /// </summary>
    public IdentificationRequest? Observation { get; init; }

    /// <summary>The compound claimed: key, name, synonym or CAS number. Missing: none.</summary>
    public string? ClaimedParent { get; init; }

    /// <summary>The function claimed, where no compound is. Missing: none.</summary>
    public ParentKind? ClaimedKind { get; init; }

    /// <summary>How the claim follows from what was seen. Missing: none.</summary>
    [StringLength(LongestText)]
    public string? Reasoning { get; init; }

    /// <summary>Anything else. Missing: none.</summary>
    [StringLength(LongestText)]
    public string? Notes { get; init; }

    /// <summary>Whether it is a draft, which can be changed and counts for nothing yet. Missing: no, it is handed in.</summary>
    public bool? IsDraft { get; init; }
}

/// <summary>A report.</summary>
public sealed record ReportItem
{
    /// <summary>Its id; another one while it is marked anonymously, which only what is asked for marking takes.</summary>
    public required string Id { get; init; }

    /// <summary>
    /// The student; of a group its first member, to a student themself. Missing: it is marked anonymously, and grades are not published.
    /// </summary>
    public string? Student { get; init; }

    /// <summary>
    /// The group whose report it is, as it was called when unknowns were handed out. Missing: the student was in none, or it is marked
    /// anonymously, and grades are not published.
    /// </summary>
    public string? Group { get; init; }

    /// <summary>
    /// Everybody whose report it is, the student among them, in order of their identifiers. Missing: the student's alone, its student is not
    /// told, or you are a student.
    /// </summary>
    public IReadOnlyList<string>? Members { get; init; }

    /// <summary>The code on the unknown's label. Missing: its student is not told, whose label has it.</summary>
    public string? Assignment { get; init; }

    /// <summary>Whether it is a draft, which can be changed and counts for nothing yet.</summary>
    public required bool IsDraft { get; init; }

    /// <summary>
    /// The student's marking code, one a group, the same before and after publication. Missing: the course isn't marked anonymously, you are its
    /// student, or this answers a report that you handed in for one.
    /// </summary>
    public string? MarkingCode { get; init; }

    /// <summary>Whose it is: the student, else their marking code.</summary>
    [JsonIgnore]
    public string Whose => Student ?? MarkingCode ?? "";

    /// <summary>Number of the unknown among the student's.</summary>
    public required int Number { get; init; }

    /// <summary>First, second ... report on the unknown, from 1.</summary>
    public required int Attempt { get; init; }

    /// <summary>When it was handed in (RFC 3339, UTC). Missing: it is a draft, or its student is not told.</summary>
    public DateTime? HandedInAt { get; init; }

    /// <summary>What was seen and measured, in canonical form; without its thermometer where its student is not told.</summary>
    public required IdentificationRequest Observation { get; init; }

    /// <summary>The compound claimed, by key. Missing: none.</summary>
    public string? ClaimedParent { get; init; }

    /// <summary>The function claimed, where no compound is. Missing: none.</summary>
    public ParentKind? ClaimedKind { get; init; }

    /// <summary>How the claim follows from what was seen. Missing: none.</summary>
    public string? Reasoning { get; init; }

    /// <summary>Anything else. Missing: none.</summary>
    public string? Notes { get; init; }

    /// <summary>What was in the vial, by key. Missing: the course isn't for practice, it is a draft, or this answers its being handed in.</summary>
    public string? HandedOutParent { get; init; }
}
