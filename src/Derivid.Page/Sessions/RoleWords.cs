using Derivid.Core.Teaching;

namespace Derivid.Page.Sessions;

/// <summary>Roles as a reader is told of them.</summary>
public static class RoleWords
{
    /// <summary>The role's name.</summary>
    /// <param name="role">The role.</param>
    public static string Of(Role role) => role switch
    {
        Role.Student => "Student",
        Role.Grader => "Grader",
        Role.Instructor => "Instructor",
        Role.Administrator => "Administrator",
    };

    /// <summary>What a role adds to those before it.</summary>
    /// <param name="role">The role.</param>
    public static string MayDo(Role role) => role switch
    {
        Role.Student => "identify, read the table, see your courses, hand in reports and read your published grades",
        Role.Grader => "read reports with what was in the vials, and grade them",
        Role.Instructor => "run courses, hand out unknowns, publish grades and curate the table",
        Role.Administrator => "give out and revoke keys, and read the audit log",
    };
}
