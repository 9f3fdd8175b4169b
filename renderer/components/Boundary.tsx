import { Component, type ErrorInfo, type ReactNode } from 'react';

type Props = {
  /** which part of the window, for the log */
  where: string;
  failed: (where: string, text: string) => void;
  /** what stands in its place */
  fallback: (again: () => void) => ReactNode;
  children: ReactNode;
};

/** A render that throws takes down its own part of the window and nothing else. */
export class Boundary extends Component<Props, { isBroken: boolean }> {
  override state = { isBroken: false };
  static getDerivedStateFromError = (): { isBroken: boolean } => ({ isBroken: true });
  override componentDidCatch(failure: unknown, { componentStack }: ErrorInfo): void {
    const text = failure instanceof Error ? (failure.stack ?? failure.message) : String(failure);
    this.props.failed(this.props.where, `${text}\n${componentStack ?? ''}`.slice(0, 8000));
  }
  override render(): ReactNode {
    return this.state.isBroken ? this.props.fallback(() => this.setState({ isBroken: false })) : this.props.children;
  }
}
