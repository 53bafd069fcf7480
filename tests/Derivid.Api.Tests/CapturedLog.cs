using System.Collections.Concurrent;
using Microsoft.Extensions.Logging;

namespace Derivid.Api.Tests;

/// <summary>Keeps everything that is logged.</summary>
public sealed class CapturedLog : ILoggerProvider, ILogger
{
    private readonly ConcurrentQueue<string> _lines = new();

    public IEnumerable<string> Lines => _lines;

    public ILogger CreateLogger(string categoryName) => this;

    public IDisposable? BeginScope<TState>(TState state)
        where TState : notnull => null;

    public bool IsEnabled(LogLevel logLevel) => true;

    public void Log<TState>(
        LogLevel logLevel, EventId eventId, TState state, Exception? exception, Func<TState, Exception?, string> formatter) =>
        _lines.Enqueue($"{logLevel} {formatter(state, exception)} {exception}");

    public void Dispose()
    {
    }
}
