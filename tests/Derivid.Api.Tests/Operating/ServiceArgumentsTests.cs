using Derivid.Api.Operating;

namespace Derivid.Api.Tests.Operating;

/// <summary>What the words after the service's name come to.</summary>
public sealed class ServiceArgumentsTests
{
    [Theory]
    [InlineData(ServiceTask.Serve, null)]
    [InlineData(ServiceTask.Serve, null, "--urls", "http://127.0.0.1:1", "Derivid:DataFolder=here")]
    [InlineData(ServiceTask.Migrate, null, "--migrate")]
    [InlineData(ServiceTask.BackUp, "copy.db", "--backup", "copy.db", "--Derivid:DataFolder", "here")]
    [InlineData(ServiceTask.Restore, "copy.db", "--Derivid:DataFolder=here", "--restore=copy.db")]
    [InlineData(ServiceTask.Check, "copy.db", "--check", "copy.db")]
    [InlineData(ServiceTask.Check, null, "--check")]
    [InlineData(ServiceTask.Check, null, "--check", "--Derivid:DataFolder", "here")]
    [InlineData(ServiceTask.Check, "a=b.db", "--check", "a=b.db", "Derivid:DataFolder=here")]
    public void EachTaskIsAskedForByItsWord(ServiceTask task, string? file, params string[] words)
    {
        var arguments = Read(words, out var told);

        Assert.True(arguments.ExitCode is null, told);
        Assert.Equal(task, arguments.Task);
        Assert.Equal(file, arguments.File?.Name);
        Assert.Equal(words.Any(word => word.Contains("here", StringComparison.Ordinal)), string.Join(' ', arguments.Settings).Contains("here", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("Required argument missing", "--backup")]
    [InlineData("\"--migrat\" is neither a setting with its value nor", "--migrat")]
    [InlineData("'serve'", "serve", "--urls", "http://127.0.0.1:1")]
    [InlineData("\"--migrat\" is neither a setting with its value nor", "--migrat", "--urls", "http://127.0.0.1:1")]
    [InlineData("\"--urls\" is neither a setting with its value nor", "--urls")]
    [InlineData("Only one of --migrate, --check is done at a time", "--migrate", "--check")]
    public void WordsThatCanNotBeUnderstoodAreToldAndNothingIsStarted(string sentence, params string[] words)
    {
        var arguments = Read(words, out var told);

        Assert.Equal(ServiceArguments.Mistaken, arguments.ExitCode);
        Assert.Contains(sentence, told, StringComparison.Ordinal);
        Assert.Contains("Nothing was started", told, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--help", "--backup <FILE>")]
    [InlineData("-h", "--Derivid:DataFolder")]
    [InlineData("--version", ".")]
    public void HelpAndVersionAreAnswered(string word, string sentence)
    {
        using var output = new StringWriter();
        var arguments = ServiceArguments.Parse([word], output, TextWriter.Null);

        Assert.Equal(0, arguments.ExitCode);
        Assert.Contains(sentence, output.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(false, "--Access:RequireKeyToRead", "true")]
    [InlineData(false, "--logging:loglevel:default=Debug", "--Kestrel:Limits:MaxConcurrentConnections=5")]
    [InlineData(true, "--Access:RequireKeysToRead", "true")]
    [InlineData(true, "--port=8080")]
    public void SettingThatTheServiceNeverAskedForIsUnknown(bool isUnknown, params string[] words)
    {
        var asked = new SettingsAsked();
        asked.TryGet("Access:RequireKeyToRead", out _);
        using var error = new StringWriter();

        Assert.Equal(isUnknown, Read(words, out _).NameUnknown(asked, error));
        Assert.Equal(isUnknown, error.ToString().Contains("is no setting of the service", StringComparison.Ordinal));
    }

    private static ServiceArguments Read(string[] words, out string told)
    {
        using var error = new StringWriter();
        var arguments = ServiceArguments.Parse(words, TextWriter.Null, error);
        told = error.ToString();
        return arguments;
    }
}
