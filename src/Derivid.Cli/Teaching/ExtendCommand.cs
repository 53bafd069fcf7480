using System.CommandLine;
using Derivid.Contracts;

namespace Derivid.Cli.Teaching;

/// <summary><c>derivid course extend</c>.</summary>
internal static class ExtendCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var students = new Argument<string[]>("student") { Description = "The roster's identifiers; of a group one is enough, since the latest of its members' holds for all.", Arity = ArgumentArity.ZeroOrMore };
        var groups = new Option<string[]>("--group") { Description = "Everybody of these groups of the roster.", HelpName = "NAME...", AllowMultipleArgumentsPerToken = true };
        var until = new Option<DateTimeOffset?>("--until") { Description = "When theirs are due, such as 2026-10-26T17:00+01:00; later than the others'.", HelpName = "MOMENT" };
        var takesBack = new Option<bool>("--take-back") { Description = "They have no longer than the others." };
        var command = new ExampledCommand("extend", "Give students longer; the course takes their reports until then even where it has closed. Others' extensions stay.")
        {
            Examples =
            [
                ("two students", "derivid course extend 0123456789abcdef s1042 s1077 --until 2026-10-26T17:00+01:00"),
                ("a group", "derivid course extend 0123456789abcdef --group A3 --until 2026-10-26T17:00+01:00"),
                ("take it back", "derivid course extend 0123456789abcdef s1042 --take-back"),
            ],
        };
        command.Add(id);
        command.Add(students);
        command.Add(groups);
        command.Add(until);
        command.Add(takesBack);
        command.SetAction(async (parsed, token) =>
        {
            if (parsed.GetValue(until) is null != parsed.GetValue(takesBack))
            {
                throw new UsageException("Either --until says when theirs are due, or --take-back that they have no longer.");
            }

            var named = (parsed.GetValue(students) ?? []).ToHashSet(StringComparer.Ordinal);
            var called = parsed.GetValue(groups) ?? [];
            if (named.Count + called.Length == 0)
            {
                throw new UsageException("Name students, or their group with --group.");
            }

            using var session = common.Open(parsed);

            // The course first: an extension that somebody else gives in between makes the change stale, and is not lost.
            var seen = await session.Client.Courses.GetAsync(parsed.GetRequiredValue(id), token);
            if (called.Length > 0)
            {
                var roster = await session.Client.Courses.GetRosterAsync(seen.Value.Id, token);
                if (called.FirstOrDefault(group => roster.All(student => student.Group != group)) is { } nobody)
                {
                    throw new UsageException($"Nobody of the roster is in the group {nobody}; derivid course roster show {seen.Value.Id} shows who is in which.");
                }

                named.UnionWith(roster.Where(student => called.Contains(student.Group)).Select(student => student.Student));
            }

            var kept = (await session.Client.Courses.GetExtensionsAsync(seen.Value.Id, token)).Where(extension => !named.Contains(extension.Student));
            var given = parsed.GetValue(until) is { } due ? named.Order(StringComparer.Ordinal).Select(student => new Extension { Student = student, DueAt = due }) : [];
            var extensions = await session.Client.Courses.PutExtensionsAsync(seen, [.. kept, .. given], token);
            session.Show(extensions, (console, shown) =>
            {
                var table = Screen.NewTable("student", "due");
                foreach (var extension in shown)
                {
                    table.AddTexts(extension.Student, Figures.Moment(extension.DueAt.UtcDateTime));
                }

                console.Write(table);
            });
            return ExitCode.Done;
        });
        return command;
    }
}
