namespace Derivid.Validation.Experiments;

/// <summary>Who ranks.</summary>
public enum Method
{
    /// <summary>The service's engine.</summary>
    Engine,

    /// <summary>An observer who knows the generating model, and which compound was taken out of the table.</summary>
    Ideal,

    /// <summary>The same, but not told which compound was taken out: the best aim for "none of these".</summary>
    IdealUntold,

    /// <summary>
    /// One who is told neither that nor which of the four benches it is on: the most that a service can come to.
    /// </summary>
    IdealBlind,

    /// <summary>Nearest listed temperatures, probabilities fitted.</summary>
    Nearest,

    /// <summary>±5 °C window, probabilities fitted.</summary>
    Window,

    /// <summary>Window and spot tests by hand rules.</summary>
    WindowAndTests,
}
