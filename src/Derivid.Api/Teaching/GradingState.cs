namespace Derivid.Api.Teaching;

/// <summary>How far a grading is.</summary>
public enum GradingState
{
    /// <summary>Under way, or waiting its turn.</summary>
    Running,

    /// <summary>Every report is done.</summary>
    Finished,
}
