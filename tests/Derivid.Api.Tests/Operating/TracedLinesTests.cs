using System.Diagnostics;
using System.Text.Json;
using Derivid.Api.Operating;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Logging.Console;

namespace Derivid.Api.Tests.Operating;

/// <summary>Every line written while a request is under way bears its trace id, once, in whatever form lines are.</summary>
public sealed class TracedLinesTests
{
    [Theory]
    [InlineData("simple")]
    [InlineData("systemd")]
    [InlineData("json")]
    public void LineBearsTheTraceIdOfWhatIsUnderWay(string form)
    {
        using var span = new Activity("request").Start();

        var line = Line(form, [new("Count", 3), new("{OriginalFormat}", "{Count} sheets")], "3 sheets");

        Assert.Contains($"3 sheets {span.Id}", line, StringComparison.Ordinal);
        if (form == "json")
        {
            Assert.True(JsonElement.Parse(line).TryGetProperty("State", out var state), line);
            Assert.True(state.TryGetProperty("TraceId", out var trace), line);
            Assert.Equal(span.Id, trace.GetString());
            Assert.Equal(3, state.GetProperty("Count").GetInt32());
        }
    }

    [Theory]
    [InlineData("simple")]
    [InlineData("json")]
    public void LineThatHasItAlreadyHasItOnce(string form)
    {
        using var span = new Activity("request").Start();

        var line = Line(form, [new("TraceId", "its own")], "its own");

        Assert.Contains("its own", line, StringComparison.Ordinal);
        Assert.DoesNotContain(span.Id!, line, StringComparison.Ordinal);
    }

    [Fact]
    public void TimeIsOneOfRfc3339InJsonAndPartedFromTheRestInWords()
    {
        const string Shipped = "yyyy-MM-ddTHH:mm:ss.fffZ ";

        var time = JsonElement.Parse(Line("json", [], "3 sheets", Shipped)).GetProperty("Timestamp").GetString();

        Assert.Matches(@"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$", time);
        Assert.Matches(@"^\S+Z info", Line("simple", [], "3 sheets", Shipped));
    }

    [Fact]
    public void LineOfNoRequestIsLeftAsItIs()
    {
        Activity.Current = null;

        Assert.EndsWith(" 3 sheets", Line("simple", [new("Count", 3)], "3 sheets").TrimEnd(), StringComparison.Ordinal);
    }

    private static string Line(string form, KeyValuePair<string, object?>[] state, string text, string? timestamp = null)
    {
        var services = new ServiceCollection();
        services.AddLogging(logging => logging.AddConsole().AddSimpleConsole(options => options.SingleLine = true));
        services.Configure<SimpleConsoleFormatterOptions>(options => options.TimestampFormat = timestamp);
        services.Configure<JsonConsoleFormatterOptions>(options => options.TimestampFormat = timestamp);
        TracedLines.Wrap(services);
        using var provider = services.BuildServiceProvider();
        var formatter = Assert.Single(provider.GetServices<ConsoleFormatter>(), each => each.Name == form);
        using var written = new StringWriter();
        formatter.Write(
            new LogEntry<IReadOnlyList<KeyValuePair<string, object?>>>(LogLevel.Information, "Sheets", 1, state, null, (_, _) => text), null, written);
        return written.ToString();
    }
}
