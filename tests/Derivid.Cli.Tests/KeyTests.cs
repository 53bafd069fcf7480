using Derivid.Contracts;
using Derivid.Core.Teaching;

namespace Derivid.Cli.Tests;

/// <summary>derivid keys, and what becomes of the key it is run with.</summary>
public sealed class KeyTests(ServiceUnderTest service)
{
    private readonly Shell _shell = Shell.OfAdministrator(service);

    [Fact]
    public async Task KeyIsMadeListedUsedAndRevoked()
    {
        var made = (await _shell.RunAsync(
            "keys", "create", "--name", "grading, lab 4", "--role", "grader", "--valid-days", "30", "--reason", "für Übung 4"))
            .Exits(ExitCode.Done);
        var key = made.Output.Trim();
        var id = key.Split('_')[1];
        var listed = (await _shell.RunAsync("keys", "list", "--usable", "--json")).Exits(ExitCode.Done);
        var shown = (await _shell.RunAsync("keys", "list")).Exits(ExitCode.Done);
        using (var holder = Client.DerividClient.Connect(service.Address, key))
        {
            var caller = await holder.Keys.GetCurrentAsync(TestContext.Current.CancellationToken);
            Assert.Equal(Role.Grader, caller.Role);
        }

        (await _shell.RunAsync("keys", "revoke", id, "--reason", "lab is over")).Exits(ExitCode.Done);
        var after = (await _shell.RunAsync("keys", "list", "--json")).Exits(ExitCode.Done).Json.EnumerateArray()
            .Single(k => k.GetProperty("id").GetString() == id);
        using var administrator = Client.DerividClient.Connect(service.Address, ServiceUnderTest.AdministratorKey);
        var audit = await administrator.Audit
            .ListAsync(new() { Resource = "keys/" + id, Order = AuditOrder.OldestFirst }, TestContext.Current.CancellationToken)
            .ToListAsync(TestContext.Current.CancellationToken);

        Assert.Matches("^dvd_[0-9a-f]{16}_[0-9a-f]{64}$", key);
        Assert.Contains("shown this once", made.Error, StringComparison.Ordinal);
        Assert.Contains(listed.Json.EnumerateArray(), k => k.GetProperty("id").GetString() == id);
        Assert.Contains("grading, lab 4", shown.Output, StringComparison.Ordinal);
        Assert.Matches(@"\d{4}-\d\d-\d\d \d\d:\d\dZ.* \d{4}-\d\d-\d\d ", shown.Output);
        Assert.False(after.GetProperty("isUsable").GetBoolean());
        Assert.Equal(["für Übung 4", "lab is over"], audit.Select(entry => entry.Reason));
    }

    [Fact]
    public async Task KeyCanGoIntoAFileOnlyItsOwnerReads()
    {
        var path = Path.Combine(Directory.CreateTempSubdirectory("derivid-cli-").FullName, "lab.key");
        var made = (await _shell.RunAsync("keys", "create", "--name", "lab 5", "--role", "administrator", "--to-file", path))
            .Exits(ExitCode.Done);
        var holder = new Shell(service);
        var used = await holder.RunAsync("keys", "list", "--key-file", path);
        var again = await _shell.RunAsync("keys", "create", "--name", "lab 5", "--role", "grader", "--to-file", path);
        var mode = OperatingSystem.IsWindows() ? default : File.GetUnixFileMode(path);
        Directory.Delete(Path.GetDirectoryName(path)!, recursive: true);

        Assert.DoesNotContain("dvd_", made.Output + made.Error, StringComparison.Ordinal);
        used.Exits(ExitCode.Done);
        again.Exits(ExitCode.Usage);
        Assert.Equal(OperatingSystem.IsWindows() ? default : UnixFileMode.UserRead | UnixFileMode.UserWrite, mode);
    }

    [Fact]
    public async Task RefusedKeyLeavesNoFileBehind()
    {
        var path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());
        (await _shell.RunAsync(
            "keys", "create", "--name", " ", "--role", "grader", "--to-file", path)).Exits(ExitCode.Refused);

        Assert.False(File.Exists(path));
    }

    [Theory]
    [InlineData("identify", "--melting-point", "48", "--key", "KEY")]
    [InlineData("keys", "revoke", "KEY")]
    [InlineData("KEY")]
    [InlineData("keys", "list", "--key-file=KEY")]
    [InlineData("--help", "KEY")]
    public async Task KeyOnTheCommandLineIsRefusedAndNotRepeated(params string[] words)
    {
        var key = ServiceUnderTest.AdministratorKey;
        var ran = (await _shell.RunAsync([.. words.Select(w => w.Replace("KEY", key, StringComparison.Ordinal))]))
            .Exits(ExitCode.Usage);

        Assert.Contains("DERIVID_KEY", ran.Error, StringComparison.Ordinal);
        Assert.DoesNotContain(key[^64..], ran.Output + ran.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("keys", "list", "--json")]
    [InlineData("keys", "revoke", "aaaaaaaaaaaaaaaa")]
    [InlineData("keys", "revoke", "nonsense")]
    [InlineData("identify", "--melting-point", "48", "--server", "http://127.0.0.1:1")]
    public async Task KeyInUseIsNeverPrinted(params string[] words)
    {
        var ran = await _shell.RunAsync(words);

        Assert.NotEmpty(ran.Output + ran.Error);
        Assert.DoesNotContain(ServiceUnderTest.AdministratorKey[^64..], ran.Output + ran.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task NoKeyAndWrongRoleAreRefusals()
    {
        (await new Shell(service).RunAsync("keys", "list")).Exits(ExitCode.Refused);
        var student = new Shell(service);
        student.Variables["DERIVID_KEY"] =
            (await _shell.RunAsync("keys", "create", "--name", "a student", "--role", "student")).Output;
        (await student.RunAsync("keys", "list")).Exits(ExitCode.Refused);
    }

    [Theory]
    [InlineData("no-such-file")]
    [InlineData("/dev/null")]
    public async Task FileWithoutAKeyIsAUsageError(string file) =>
        (await _shell.RunAsync("keys", "list", "--key-file", file)).Exits(ExitCode.Usage);

    [Fact]
    public async Task KeyOverAnOpenNetworkIsWarnedOf()
    {
        var ran = await _shell.RunAsync("keys", "list", "--server", "http://derivid.invalid");

        Assert.Contains("https", ran.Exits(ExitCode.NotReachable).Error, StringComparison.Ordinal);
    }
}
