using System.CommandLine;
using Derivid.Cli.Writing;
using Derivid.Client.Keys;

namespace Derivid.Cli.Keys;

/// <summary><c>derivid keys create</c>.</summary>
internal static class CreateKeyCommand
{
    public static Command Make(CommonOptions common)
    {
        var name = new Option<string>("--name")
        {
            Description = "Whom or what it is for.",
            HelpName = "TEXT",
            Required = true,
        };
        var role = OptionOf.Many(
            "--role", "ROLE", "student, grader, instructor or administrator.", OptionOf.Word<Role>);
        role.Description = "student, grader, instructor or administrator; each may do all that those before it may.";
        role.Arity = ArgumentArity.ExactlyOne;
        role.Required = true;
        var days = new Option<int?>("--valid-days") { Description = "How long it is good. Default: 365.", HelpName = "DAYS" };
        var file = new Option<string?>("--to-file")
        {
            Description = "Write the key into this new file, which only you can read, instead of showing it.",
            HelpName = "FILE",
        };
        var reason = ReasonOption.Make();
        var command = new ExampledCommand("create", "Make a key. It is shown this once and can't be fetched again.")
        {
            Examples =
            [
                ("for a grading script", "derivid keys create --name 'grading, organic lab' --role grader --to-file grading.key"),
            ],
        };
        foreach (var option in (Option[])[name, role, days, file, reason])
        {
            command.Add(option);
        }

        command.SetAction(async (parsed, token) =>
        {
            var request = new KeyRequest
            {
                Name = parsed.GetRequiredValue(name),
                Role = parsed.GetRequiredValue(role)[0],
                ValidDays = parsed.GetValue(days),
            };
            using var session = common.Open(parsed);
            var why = parsed.GetValue(reason);
            await (parsed.GetValue(file) is { } path
                ? WriteAsync(session, request, why, path, token)
                : ShowAsync(session, request, why, token));
            return ExitCode.Done;
        });
        return command;
    }

    private static async Task ShowAsync(
        Session session, KeyRequest request, string? reason, CancellationToken cancellationToken)
    {
        var made = await session.Client.Keys.CreateAsync(request, reason, cancellationToken);
        session.Show(made, (_, key) => session.Around.Output.WriteLine(key.Key));
        session.Around.Error.WriteLine(
            "derivid: this is the whole key. It is shown this once; keep it like a password.");
    }

    // The file is made before the key is, so that no key is lost for want of a place to put it.
    private static async Task WriteAsync(
        Session session, KeyRequest request, string? reason, string path, CancellationToken cancellationToken)
    {
        await using var target = NewPrivateFile(path);
        try
        {
            var made = await session.Client.Keys.CreateAsync(request, reason, cancellationToken);
            await target.WriteLineAsync(made.Key);
            session.Show(made.Details, (_, details) => session.Around.Output.WriteLine(details.Id));
        }
        catch
        {
            File.Delete(path);
            throw;
        }
    }

    private static StreamWriter NewPrivateFile(string path)
    {
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        }

        try
        {
            return new StreamWriter(path, options);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new UsageException($"The key can't be written to {path}: {fault.Message}");
        }
    }
}
