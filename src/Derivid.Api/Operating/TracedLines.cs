using System.Collections;
using System.Diagnostics;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Logging.Console;

namespace Derivid.Api.Operating;

/// <summary>Puts the trace id behind every line that is logged while a request, or other work with one, is under way.</summary>
/// <remarks>
/// The framework would write it among its scopes, and with it the address of the request, which holds what is no business of a log. As JSON it
/// is the member TraceId of an entry's state. Thread safety: as that of the formatter within.
/// </remarks>
/// <param name="inner">Writes the lines.</param>
public sealed class TracedLines(ConsoleFormatter inner) : ConsoleFormatter(inner.Name)
{
    private const string Member = "TraceId";

    /// <summary>Has each of the console's formatters do so, whichever is chosen.</summary>
    /// <param name="services">The services, with the formatters added.</param>
    public static void Wrap(IServiceCollection services)
    {
        ArgumentNullException.ThrowIfNull(services);
        foreach (var formatter in services.Where(service => service.ServiceType == typeof(ConsoleFormatter)).ToList())
        {
            services.Remove(formatter);
            services.AddSingleton<ConsoleFormatter>(provider =>
                new TracedLines((ConsoleFormatter)ActivatorUtilities.CreateInstance(provider, formatter.ImplementationType!)));
        }

        // The blank that parts the time from the rest of a line of words would be part of the time in JSON, which RFC 3339 has no place for.
        services.PostConfigure<JsonConsoleFormatterOptions>(options => options.TimestampFormat = options.TimestampFormat?.TrimEnd());
    }

    /// <inheritdoc/>
    public override void Write<TState>(in LogEntry<TState> logEntry, IExternalScopeProvider? scopeProvider, TextWriter textWriter)
    {
        var state = logEntry.State as IReadOnlyCollection<KeyValuePair<string, object?>>;
        if (Activity.Current?.Id is not { } trace || state?.Any(member => member.Key == Member) == true)
        {
            inner.Write(logEntry, scopeProvider, textWriter);
            return;
        }

        var text = logEntry.Formatter(logEntry.State, logEntry.Exception);
        inner.Write(
            new LogEntry<Traced>(
                logEntry.LogLevel, logEntry.Category, logEntry.EventId, new Traced($"{text} {trace}", [.. state ?? [], new(Member, trace)]),
                logEntry.Exception, (traced, _) => traced.Text),
            scopeProvider, textWriter);
    }

    private sealed record Traced(string Text, IReadOnlyList<KeyValuePair<string, object?>> Members) : IReadOnlyList<KeyValuePair<string, object?>>
    {
        public KeyValuePair<string, object?> this[int index] => Members[index];

        public int Count => Members.Count;

        public IEnumerator<KeyValuePair<string, object?>> GetEnumerator() => Members.GetEnumerator();

        IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();

        // What the formatters write as the whole of a state.
        public override string ToString() => Text;
    }
}
