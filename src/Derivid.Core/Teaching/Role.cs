namespace Derivid.Core.Teaching;

/// <summary>What somebody may do. A ladder: each role may do all that the roles before it may.</summary>
public enum Role
{
    /// <summary>Hands in reports.</summary>
    Student,

    /// <summary>Grades reports, and so sees identities.</summary>
    Grader,

    /// <summary>Runs courses and curates the table.</summary>
    Instructor,

    /// <summary>Gives out and revokes keys, and reads the audit log.</summary>
    Administrator,
}
