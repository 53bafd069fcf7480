using System.CommandLine;
using Derivid.Contracts;
using Spectre.Console;

namespace Derivid.Cli.Teaching;

/// <summary><c>derivid course staff</c>.</summary>
internal static class StaffCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var added = Actors("--add", "Who sees and grades it as well, such as the grading script: key: and the public part of a key; who owned it does no longer.");
        var owners = Actors("--owner", "The same, as owners: they say who else is of it, archive and delete it.");
        var removed = Actors("--remove", "Who is of it no longer.");
        var command = new ExampledCommand("staff", "Who sees and grades a course, besides administrators; with options, to change that, for its owners.")
        {
            Examples =
            [
                ("who they are", "derivid course staff 0123456789abcdef"),
                ("a grading script, by the public part of its key", "derivid course staff 0123456789abcdef --add key:fedcba9876543210"),
                ("a colleague who owns it with you", "derivid course staff 0123456789abcdef --owner key:0123456789abcdef"),
                ("somebody who has left", "derivid course staff 0123456789abcdef --remove key:fedcba9876543210"),
            ],
        };
        command.Add(id);
        command.Add(added);
        command.Add(owners);
        command.Add(removed);
        command.SetAction(async (parsed, token) =>
        {
            var (served, owned, left) = (parsed.GetValue(added) ?? [], parsed.GetValue(owners) ?? [], parsed.GetValue(removed) ?? []);
            if (served.Concat(owned).Concat(left).CountBy(actor => actor).FirstOrDefault(actor => actor.Value > 1).Key is { } twice)
            {
                throw new UsageException($"{twice} is named more than once.");
            }

            using var session = common.Open(parsed);

            // The course first: what somebody else changes in between makes the change stale, and is not lost.
            var seen = await session.Client.Courses.GetAsync(parsed.GetRequiredValue(id), token);
            var staff = await session.Client.Courses.GetStaffAsync(seen.Value.Id, token);
            if (left.FirstOrDefault(actor => staff.All(member => member.Actor != actor)) is { } nobody)
            {
                throw new UsageException($"{nobody} is not of the staff; derivid course staff {seen.Value.Id} shows who is.");
            }

            HashSet<string> changed = [.. served, .. owned, .. left];
            session.Show(
                changed.Count == 0 ? staff : await session.Client.Courses.PutStaffAsync(
                    seen, [.. staff.Where(member => !changed.Contains(member.Actor)), .. served.Select(actor => Member(actor, false)), .. owned.Select(actor => Member(actor, true))], token),
                Write);
            return ExitCode.Done;
        });
        return command;
    }

    private static StaffMember Member(string actor, bool isOwner) => new() { Actor = actor, IsOwner = isOwner };

    private static void Write(IAnsiConsole console, IReadOnlyList<StaffMember> staff)
    {
        var table = Screen.NewTable("who", "");
        foreach (var member in staff)
        {
            table.AddTexts(member.Actor, member.IsOwner == true ? "owner" : null);
        }

        console.Write(table);
    }

    private static Option<string[]> Actors(string name, string description) => new(name)
    {
        Description = description,
        HelpName = "ACTOR...",
        AllowMultipleArgumentsPerToken = true,
    };
}
